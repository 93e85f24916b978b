package job

import (
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/stock"
)

// Tones are colours that the maker has measured on their own board, oiled or varnished as the piece will be, as CIELAB under
// D65. While Own is set they stand for the wood of the board of most layers instead of the catalogue's: the faces and every
// veneer that runs with them have the light tone on long grain, the veneers between the dark one, and all have the one end grain.
// They are of finished wood, so that the finish's own darkening doesn't come on top; its gloss does. Veneers of another species
// keep the catalogue's tones. The zero Tones are none.
type Tones struct {
	Own              bool
	Light, Dark, End stock.Lab
}

// check refuses tones that no eye can see.
func (t Tones) check() error {
	for _, one := range []struct {
		name string
		lab  stock.Lab
	}{{"light veneer", t.Light}, {"dark veneer", t.Dark}, {"end grain", t.End}} {
		for i, v := range one.lab {
			low, high := -128.0, 128.0
			if i == 0 {
				low, high = 0, 100
			}
			if !(v >= low && v <= high) || math.IsNaN(v) {
				return fmt.Errorf("the tone of the %s is %v: lightness is from 0 to 100, a and b from -128 to 128", one.name, one.lab)
			}
		}
	}
	return nil
}

// ToneOf is how a veneer looks on long grain and on end grain; finished is true where that is under the finish already, false
// where it is bare wood.
func (s Settings) ToneOf(v stock.Veneer, c *stock.Catalogue) (long, end stock.Lab, finished bool) {
	usual, _ := c.Board(s.Board)
	if !s.Tones.Own || !slices.ContainsFunc(usual.Recipe, func(u stock.Veneer) bool { return u.Species == v.Species }) {
		w, _ := c.Wood(v.Species)
		return w.Long, w.End, false
	}
	if v.Grain == stock.Across {
		return s.Tones.Dark, s.Tones.End, true
	}
	return s.Tones.Light, s.Tones.End, true
}
