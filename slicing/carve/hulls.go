package carve

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// Hulls are the convex hulls of the layer's parts seen from above, mm on the stand, to half a column, counter-clockwise.
// Columns that touch at a side or a corner count as one part, so parts that lie closer than a column are taken together.
func (l *LayerColumns) Hulls() []geom.Ring {
	m := &l.Top
	if m.Z == nil {
		return nil
	}
	labels, n := m.label(func(i int) bool { return m.Z[i] != NoWood })
	points := make([][]geom.Vec2, n)
	half := m.Step / 2
	for j := range m.H {
		for i := 0; i < m.W; {
			label := labels[j*m.W+i]
			end := i + 1
			for end < m.W && labels[j*m.W+end] == label {
				end++
			}
			if label != 0 {
				a, b := m.Place(i, j), m.Place(end-1, j)
				points[label-1] = append(points[label-1],
					geom.Vec2{X: a.X - half, Y: a.Y - half}, geom.Vec2{X: a.X - half, Y: a.Y + half},
					geom.Vec2{X: b.X + half, Y: b.Y - half}, geom.Vec2{X: b.X + half, Y: b.Y + half})
			}
			i = end
		}
	}
	hulls := make([]geom.Ring, n)
	for k := range points {
		hulls[k] = plane.Hull(points[k])
	}
	return hulls
}
