package plane

import "grainstack/slicing/geom"

// Nearest is the place nearest to p on the straight way from a to b, which may be one point.
func Nearest(p, a, b geom.Vec2) geom.Vec2 {
	d := b.Sub(a)
	l := d.Dot(d)
	if l == 0 {
		return a
	}
	return a.Add(d.Scale(min(max(p.Sub(a).Dot(d)/l, 0), 1)))
}

// Apart is how far p lies from the straight way from a to b.
func Apart(p, a, b geom.Vec2) float64 { return p.Sub(Nearest(p, a, b)).Len() }
