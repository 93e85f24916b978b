package plane

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
)

// Hull is the convex hull of points, counter-clockwise from the leftmost, without points on its edges; nil where all points
// lie in one line. The monotone chain of Andrew (Information Processing Letters 9(5), 1979).
func Hull(points []geom.Vec2) geom.Ring {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	var out geom.Ring
	for range 2 { // below from left to right, above back
		start := len(out)
		for _, p := range sorted {
			for n := len(out); n > start+1 && out[n-1].Sub(out[n-2]).Cross(p.Sub(out[n-2])) <= 0; n = len(out) {
				out = out[:n-1]
			}
			out = append(out, p)
		}
		out = out[:max(len(out)-1, 0)]
		slices.Reverse(sorted)
	}
	if len(out) < 3 {
		return nil
	}
	return out
}
