package arrange

import (
	"slices"

	"grainstack/slicing/mesh"
)

// meeting is what two facets have in common besides corners and edges that they share: nothing, points, of which two are the
// ends of a segment, or, where both lie in one plane, whatever that is.
type meeting struct {
	ends []int32
	flat bool
}

// meet is what facets s and t of the mesh have in common.
func (p *points) meet(s, t int32) meeting {
	a, b := p.m.Triangles[s], p.m.Triangles[t]
	hb, some := p.heights(a, b)
	if !some {
		return meeting{}
	}
	if hb == [3]int{} {
		return meeting{flat: p.lap(a, b)}
	}
	ha, some := p.heights(b, a)
	if !some {
		return meeting{}
	}
	ends := p.ends(s, t, hb, nil)
	ends = p.ends(t, s, ha, ends)
	for _, id := range ends {
		if !slices.Contains(a[:], id) || !slices.Contains(b[:], id) {
			return meeting{ends: ends}
		}
	}
	return meeting{}
}

// heights are the sides of t's plane on which s's corners lie; some is false where all lie clearly on one.
func (p *points) heights(t, s mesh.Triangle) (h [3]int, some bool) {
	up, down := 0, 0
	for k, v := range s {
		if slices.Contains(t[:], v) {
			continue
		}
		h[k] = p.side(t, p.of(v))
		switch {
		case h[k] > 0:
			up++
		case h[k] < 0:
			down++
		}
	}
	return h, up < 3 && down < 3
}

// ends adds the points at which the rim of facet t, whose corners lie at heights h, meets facet s.
func (p *points) ends(s, t int32, h [3]int, to []int32) []int32 {
	a, b := p.m.Triangles[s], p.m.Triangles[t]
	add := func(id int32) {
		if !slices.Contains(to, id) {
			to = append(to, id)
		}
	}
	for k := range 3 {
		l := (k + 1) % 3
		if h[k] == 0 && p.holds(a, b[k]) {
			add(b[k])
		}
		if h[k]*h[l] < 0 && p.pierced(a, b[k], b[l]) {
			add(p.passes(b[k], b[l], s))
		}
	}
	return to
}

// holds reports whether point v, in the plane of t, lies in t or on its rim.
func (p *points) holds(t mesh.Triangle, v int32) bool {
	if slices.Contains(t[:], v) {
		return true
	}
	w, handed, ok := p.viewOf(t)
	return ok && w.within(p.of(t[0]), p.of(t[1]), p.of(t[2]), p.of(v), handed)
}

// pierced reports whether the edge from a to b, whose ends lie on either side of t, runs through t or its rim.
func (p *points) pierced(t mesh.Triangle, a, b int32) bool {
	left, right := false, false
	for k := range 3 {
		c, d := t[k], t[(k+1)%3]
		if c == a || c == b || d == a || d == b {
			continue
		}
		side := p.side(mesh.Triangle{a, b, c}, p.of(d))
		left, right = left || side > 0, right || side < 0
	}
	return !(left && right)
}

// lap reports whether facets of one plane have more in common than corners and edges that they share.
func (p *points) lap(s, t mesh.Triangle) bool {
	v, hs, ok := p.viewOf(s)
	if !ok {
		return false
	}
	_, ht, ok := p.viewOf(t)
	if !ok {
		return false
	}
	corners := func(t mesh.Triangle) [3]*spot { return [3]*spot{p.of(t[0]), p.of(t[1]), p.of(t[2])} }
	a, b := corners(s), corners(t)
	ht = v.turn(b[0], b[1], b[2])
	same := 0
	for k := range 3 {
		switch {
		case slices.Contains(s[:], t[k]):
			same++
		case v.within(a[0], a[1], a[2], b[k], hs):
			return true
		}
		if !slices.Contains(t[:], s[k]) && v.within(b[0], b[1], b[2], a[k], ht) {
			return true
		}
	}
	if same == 3 {
		return true
	}
	for i := range 3 {
		for j := range 3 {
			if v.across(a[i], a[(i+1)%3], b[j], b[(j+1)%3]) {
				return true
			}
		}
	}
	return false
}

// across reports whether two segments cross at a point inside both.
func (v view) across(a, b, c, d *spot) bool {
	return v.turn(a, b, c)*v.turn(a, b, d) < 0 && v.turn(c, d, a)*v.turn(c, d, b) < 0
}
