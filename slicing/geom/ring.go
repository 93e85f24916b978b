package geom

import "math"

// A Ring is a closed line in a plane; the last point joins the first.
type Ring []Vec2

// Area is the signed area: positive counter-clockwise. It is taken about the ring's first point, so that a ring far from
// the origin loses no digits.
func (r Ring) Area() float64 {
	if len(r) < 3 {
		return 0
	}
	o, sum := r[0], 0.0
	for i := 1; i+1 < len(r); i++ {
		sum += r[i].Sub(o).Cross(r[i+1].Sub(o))
	}
	return sum / 2
}

// Perimeter is the length of the closed line.
func (r Ring) Perimeter() float64 {
	sum := 0.0
	for i := range r {
		sum += r[(i+1)%len(r)].Sub(r[i]).Len()
	}
	return sum
}

// Box is the smallest rectangle round the ring.
func (r Ring) Box() Box2 {
	b := EmptyBox2()
	for _, p := range r {
		b = b.Add(p)
	}
	return b
}

// Winding counts how often the ring runs round p, counter-clockwise positive; points on the ring may count either way.
func (r Ring) Winding(p Vec2) int {
	n := 0
	for i, a := range r {
		n += Passing(a, r[(i+1)%len(r)], p)
	}
	return n
}

// Passing is what the side of a ring from a to b adds to the ring's winding round p: 1 where it passes p on the right going up,
// -1 where it does going down, else 0.
func Passing(a, b, p Vec2) int {
	if (a.Y <= p.Y) == (b.Y <= p.Y) {
		return 0
	}
	if side := b.Sub(a).Cross(p.Sub(a)); b.Y > a.Y && side > 0 {
		return 1
	} else if b.Y < a.Y && side < 0 {
		return -1
	}
	return 0
}

// A Region is what rings enclose: inside is where the windings of all rings together are positive. Outlines run
// counter-clockwise, holes clockwise.
type Region []Ring

// Area is outlines less holes.
func (g Region) Area() float64 {
	sum := 0.0
	for _, r := range g {
		sum += r.Area()
	}
	return sum
}

// Perimeter is the length of all rings, holes included.
func (g Region) Perimeter() float64 {
	sum := 0.0
	for _, r := range g {
		sum += r.Perimeter()
	}
	return sum
}

// Box is the smallest rectangle round the region.
func (g Region) Box() Box2 {
	b := EmptyBox2()
	for _, r := range g {
		b = b.Union(r.Box())
	}
	return b
}

// Contains reports whether p lies inside.
func (g Region) Contains(p Vec2) bool {
	n := 0
	for _, r := range g {
		n += r.Winding(p)
	}
	return n > 0
}

// Centroid is the centre of the region's area; ok is false where there is no area.
func (g Region) Centroid() (c Vec2, ok bool) {
	var o Vec2
	for _, r := range g {
		if len(r) > 0 {
			o = r[0]
			break
		}
	}
	var m Vec2
	area := 0.0
	for _, r := range g {
		for i, a := range r {
			p, q := a.Sub(o), r[(i+1)%len(r)].Sub(o)
			w := p.Cross(q) / 2
			area += w
			m = m.Add(p.Add(q).Scale(w / 3))
		}
	}
	if math.Abs(area) < 1e-12 {
		return Vec2{}, false
	}
	return o.Add(m.Scale(1 / area)), true
}

// Map is the region with every point carried by to, which must keep the sense of turning.
func (g Region) Map(to func(Vec2) Vec2) Region {
	out := make(Region, len(g))
	for i, r := range g {
		out[i] = make(Ring, len(r))
		for k, p := range r {
			out[i][k] = to(p)
		}
	}
	return out
}

// Mirror is Map for a to that turns the sense of turning round: the rings are run backward, so that outlines stay outlines.
func (g Region) Mirror(to func(Vec2) Vec2) Region {
	out := make(Region, len(g))
	for i, r := range g {
		out[i] = make(Ring, len(r))
		for k, p := range r {
			out[i][len(r)-1-k] = to(p)
		}
	}
	return out
}
