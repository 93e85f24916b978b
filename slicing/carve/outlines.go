package carve

import (
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// Outlines are those of the layer's parts seen from above, mm on the stand, to half a column. Columns that touch at a side or a
// corner count as one part, so parts that lie closer than a column are taken together.
func (l *LayerColumns) Outlines() []geom.Region {
	m := &l.Top
	if m.Z == nil {
		return nil
	}
	labels, n := m.label(func(i int) bool { return m.Z[i] != NoWood })
	type extent struct{ i0, j0, i1, j1 int }
	boxes := slices.Repeat([]extent{{m.W, m.H, 0, 0}}, n)
	for k, label := range labels {
		if label != 0 {
			b, i, j := &boxes[label-1], k%m.W, k/m.W
			*b = extent{min(b.i0, i), min(b.j0, j), max(b.i1, i+1), max(b.j1, j+1)}
		}
	}
	out := make([]geom.Region, n)
	for part, b := range boxes {
		g := plane.Grid{Origin: m.Place(b.i0-1, b.j0-1), Step: m.Step, NX: b.i1 - b.i0 + 2, NY: b.j1 - b.j0 + 2}
		g.V = slices.Repeat([]float32{-1}, g.NX*g.NY)
		for j := b.j0; j < b.j1; j++ {
			for i := b.i0; i < b.i1; i++ {
				if int(labels[j*m.W+i]) == part+1 {
					g.V[(j-b.j0+1)*g.NX+i-b.i0+1] = 1
				}
			}
		}
		out[part] = g.Contours()
	}
	return out
}
