package field

import "grainstack/slicing/geom"

// March follows a ray from within the core until depth has fallen to wall again: where a look into the opened hollow meets
// its skin. from and dir (of length 1), wall and far are in the piece's frame and units. It gives the way gone, and the
// gradient of depth there: the skin's normal, pointing into the hollow. A start no deeper than wall is met at once; ok is
// false when the ray goes far without meeting the skin.
func (g *Grid) March(from, dir geom.Vec, wall, far float64) (way float64, normal geom.Vec, ok bool) {
	far = min(far, 2*g.solid.Size().Len()) // no ray stays inside for longer
	inv := 1 / g.step
	o, d := from.Sub(g.origin).Scale(inv), dir.Scale(inv)
	least := g.step / 8
	deep, back := 0.0, 0.0
	for t := 0.0; t <= far; {
		v := g.at(o.X+t*d.X, o.Y+t*d.Y, o.Z+t*d.Z) - wall
		if v <= 0 {
			if deep > 0 {
				t = back + (t-back)*deep/(deep-v)
			}
			return t, g.Gradient(from.Add(dir.Scale(t))), true
		}
		deep, back = v, t
		t += max(v, least)
	}
	return far, geom.Vec{}, false
}
