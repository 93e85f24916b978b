package job

import (
	"math"

	"grainstack/slicing/stock"
)

// A Blank is what one layer is carved from: a board, planed on both faces to the thickness that all layers have, and how it
// lies.
type Blank struct {
	Board   stock.Board
	Skim    float64        // mm off each face
	Veneers []stock.Veneer // what that leaves, bottom to top
	Turned  bool           // grain turned by 90 degrees
}

// Blanks are those of all layers. They never change.
type Blanks struct {
	usual     Blank
	alternate bool
	others    map[int]Blank // Turned: against how the layer would lie
}

// Blanks are what the layers are carved from. A board that the catalogue lacks, or that is too thin, leaves no veneers.
func (s Settings) Blanks(c *stock.Catalogue) Blanks {
	b, _ := s.BoardIn(c)
	out := Blanks{usual: Blank{Board: b, Skim: s.Skim}, alternate: s.Alternate}
	out.usual.Veneers, _ = b.Skimmed(s.Skim)
	if s.Mix == "" {
		return out
	}
	made := map[string]Blank{"": out.usual, s.Board: out.usual}
	out.others = make(map[int]Blank)
	for _, one := range s.Mix.all() {
		k, ok := made[one.Board]
		if !ok {
			k = planed(c, one.Board, b.Thickness-2*s.Skim)
			made[one.Board] = k
		}
		k.Turned = one.Turn
		out.others[one.layer] = k
	}
	return out
}

// planed is a board of the catalogue with as much off each face as leaves the thickness.
func planed(c *stock.Catalogue, key string, thickness float64) Blank {
	b, _ := c.Board(key)
	k := Blank{Board: b, Skim: math.Round((b.Thickness-thickness)/2*1e6) / 1e6}
	if k.Skim < 0 && k.Skim > -tooThin/2 {
		k.Skim = 0
	}
	k.Veneers, _ = b.Skimmed(k.Skim)
	return k
}

// tooThin is how much a board may fall short of the layer, mm: figures that are typed have no more places than this.
const tooThin = 1e-6

// Of is the blank of a layer, counted from 1.
func (k Blanks) Of(layer int) Blank {
	turned := k.alternate && layer%2 == 0
	if o, ok := k.others[layer]; ok {
		o.Turned = o.Turned != turned
		return o
	}
	o := k.usual
	o.Turned = turned
	return o
}

// Usual is the blank of the layers that don't differ, as the first of them lies.
func (k Blanks) Usual() Blank { return k.usual }

// Mixed reports whether a layer, counted from 1, has a board or a turn of its own.
func (k Blanks) Mixed(layer int) bool {
	o, ok := k.others[layer]
	return ok && (o.Turned || o.Board.Key != k.usual.Board.Key)
}
