package job

import (
	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
)

// Hollow is the hollow of the figures as columns want it; nil where there is none, or where it isn't known yet.
func (f *Figures) Hollow(st *Standing) carve.Hollow { return f.hollow(st) }

// MassCentre is the middle of all wood, mm on the stand, without glue; ok is false for figures without wood.
func (f *Figures) MassCentre(st *Standing) (at geom.Vec, ok bool) {
	var sum geom.Vec
	wood := 0.0
	for i := range f.Layers {
		wood += f.Layers[i].Wood
		sum = sum.Add(f.moment(st, &f.Layers[i]))
	}
	if !(wood > 0) {
		return geom.Vec{}, false
	}
	return sum.Scale(1 / wood), true
}
