package carve

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
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
		hulls[k] = hullOf(points[k])
	}
	return hulls
}

// hullOf is the convex hull of points, which it sorts: the monotone chain of Andrew (Information Processing Letters 9(5), 1979).
func hullOf(points []geom.Vec2) geom.Ring {
	slices.SortFunc(points, func(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	var out geom.Ring
	for range 2 {
		start := len(out)
		for _, p := range points {
			for n := len(out); n > start+1 && out[n-1].Sub(out[n-2]).Cross(p.Sub(out[n-2])) <= 0; n = len(out) {
				out = out[:n-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(points)
	}
	return out
}
