package glue

import (
	"math"

	"grainstack/slicing/stock"
)

// A Contact is where two neighbouring layers meet.
type Contact struct {
	Below, Above int     // layers, from 1; Above is Below + 1
	Area         float64 // common to both faces
	Rim          float64 // narrowest wood round the hollow there; 0 where there is no hollow or it is not known
	Density      float64 // of the wood, kg/m³; where two boards meet, of the lighter, which is crushed first
	Pairs        []Pair  // which parts meet; nil where it is not known
}

// A Pair is a part of the layer below and one of the layer above that meet, both counted from 1.
type Pair struct {
	Below, Above int
	Area         float64
}

// A Clamp is one of the maker's clamps.
type Clamp struct {
	ForceN  float64 // that it is set to
	Opening float64 // the tallest stack that it goes round
	Count   int     // at hand; 0 for as many as it takes
}

// A Joint is a contact with what gluing it takes.
type Joint struct {
	Contact
	WetG, DryG  float64 // glue as it is poured, and once it is dry
	PressureMPa float64
	ForceN      float64 // over the whole joint
	Clamps      int     // at the clamp's force; 0 without a clamp or an area
}

// Light and dense are the board densities, kg/m³, at which the glue's pressures for soft and for hard wood hold: about those
// of poplar and of birch plywood (500 and 685 kg/m³, trade data sheets). That they are joined by a straight line is common
// practice, no source.
const (
	light = 500.0
	dense = 685.0
)

// Pressure is the clamp pressure for a board of so many kg/m³: the glue's soft figure for light boards, its hard figure for
// dense ones, and between them in proportion.
func Pressure(g stock.Glue, density float64) float64 {
	t := min(max((density-light)/(dense-light), 0), 1)
	return g.SoftMPa + (g.HardMPa-g.SoftMPa)*t
}

// fewestClamps keeps a joint from pivoting about its only clamp (common practice, no source).
const fewestClamps = 2

// Join works out glue and clamping of every contact, in their order.
func Join(contacts []Contact, g stock.Glue, c Clamp) []Joint {
	out := make([]Joint, len(contacts))
	for i, k := range contacts {
		p := Pressure(g, k.Density)
		j := Joint{Contact: k, WetG: g.Wet(k.Area), DryG: g.Dry(k.Area), PressureMPa: p, ForceN: p * k.Area}
		if c.ForceN > 0 && k.Area > 0 {
			j.Clamps = max(fewestClamps, int(math.Ceil(j.ForceN/c.ForceN-1e-9)))
		}
		out[i] = j
	}
	return out
}
