package arrange

import "grainstack/slicing/mesh"

// A pencil is two facets as corners relative to one point, for planes through that point which may part them.
type pencil struct {
	s, t             [3][3]float64
	lengthS, lengthT float64 // the largest sum of a corner's parts
}

// apart reports whether two facets certainly have nothing in common but corners and edges that they share. False says nothing.
func apart(m *mesh.Mesh, s, t mesh.Triangle) bool {
	shared := 0
	for i := range 3 { // what is shared comes first in both
		for j := shared; j < 3; j++ {
			if s[i] != t[j] {
				continue
			}
			s[i], s[shared] = s[shared], s[i]
			t[j], t[shared] = t[shared], t[j]
			shared++
			break
		}
	}
	if shared == 3 {
		return false
	}
	var p pencil
	o := m.Points[s[0]]
	for k := range 3 {
		a, b := m.Points[s[k]], m.Points[t[k]]
		for c := range o {
			p.s[k][c], p.t[k][c] = float64(a[c])-float64(o[c]), float64(b[c])-float64(o[c])
		}
		p.lengthS, p.lengthT = max(p.lengthS, reach(&p.s[k])), max(p.lengthT, reach(&p.t[k]))
	}
	switch shared {
	case 2:
		return p.apartAtEdge()
	case 1:
		return p.apartAtCorner()
	}
	return p.apartAnywhere()
}

func cross(a, b *[3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dot(a, b *[3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func minus(a, b *[3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// apartAtEdge is for facets with an edge in common: they lie in different planes, or on different sides of the edge.
func (p *pencil) apartAtEdge() bool {
	e := &p.s[1]
	u, v := cross(e, &p.s[2]), cross(e, &p.t[2])
	l := reach(e)
	if d := dot(&u, &v); d < -2*productError*l*l*p.lengthS*p.lengthT {
		return true
	}
	h, sure := dot(&u, &p.t[2]), productError*l*p.lengthS*p.lengthT
	return h > sure || h < -sure
}

// apartAtCorner is for facets with a corner in common, which is where the planes run through.
func (p *pencil) apartAtCorner() bool {
	parts := func(n *[3]float64, sure float64, s1, s2, t1, t2 int) bool {
		return beside(dot(n, &p.s[1]), dot(n, &p.s[2]), s1, s2, sure*p.lengthS) != 0 &&
			beside(dot(n, &p.s[1]), dot(n, &p.s[2]), s1, s2, sure*p.lengthS) == -beside(dot(n, &p.t[1]), dot(n, &p.t[2]), t1, t2, sure*p.lengthT)
	}
	ns, nt := cross(&p.s[1], &p.s[2]), cross(&p.t[1], &p.t[2])
	if beside(dot(&ns, &p.t[1]), dot(&ns, &p.t[2]), 0, 0, productError*reach(&p.s[1])*reach(&p.s[2])*p.lengthT) != 0 ||
		beside(dot(&nt, &p.s[1]), dot(&nt, &p.s[2]), 0, 0, productError*reach(&p.t[1])*reach(&p.t[2])*p.lengthS) != 0 {
		return true
	}
	for i := 1; i < 3; i++ {
		for j := 1; j < 3; j++ {
			n := cross(&p.s[i], &p.t[j])
			if parts(&n, productError*reach(&p.s[i])*reach(&p.t[j]), i, 0, j, 0) {
				return true
			}
		}
	}
	for i := 1; i < 3; i++ { // facets in one plane: past an edge, or opposite each other
		n, l := cross(&ns, &p.s[i]), 2*productError*reach(&p.s[1])*reach(&p.s[2])*reach(&p.s[i])
		if parts(&n, l, i, 0, 0, 0) {
			return true
		}
		n, l = cross(&nt, &p.t[i]), 2*productError*reach(&p.t[1])*reach(&p.t[2])*reach(&p.t[i])
		if parts(&n, l, 0, 0, i, 0) {
			return true
		}
	}
	n := minus(&p.s[1], &p.t[1])
	a := minus(&p.s[2], &p.t[2])
	for k := range n {
		n[k] += a[k]
	}
	return parts(&n, productError*(p.lengthS+p.lengthT), 0, 0, 0, 0)
}

// beside is the sign of two heights of which each is clearly on the same side; zero1 and zero2 are 1 or 2 for the one that is
// known to be nothing.
func beside(h1, h2 float64, zero1, zero2 int, sure float64) int {
	switch {
	case zero1 == 1 || zero2 == 1:
		h1 = h2
	case zero1 == 2 || zero2 == 2:
		h2 = h1
	}
	switch {
	case h1 > sure && h2 > sure:
		return 1
	case h1 < -sure && h2 < -sure:
		return -1
	}
	return 0
}

// apartAnywhere is for facets with no corner in common.
func (p *pencil) apartAnywhere() bool {
	long := p.lengthS + p.lengthT
	parts := func(n *[3]float64, sure float64) bool {
		sure *= long
		low, high := dot(n, &p.s[1]), dot(n, &p.s[2])
		low, high = min(low, high, 0), max(low, high, 0)
		a, b, c := dot(n, &p.t[0]), dot(n, &p.t[1]), dot(n, &p.t[2])
		return min(a, b, c) > high+sure || max(a, b, c) < low-sure
	}
	es := [3][3]float64{p.s[1], p.s[2], minus(&p.s[2], &p.s[1])}
	et := [3][3]float64{minus(&p.t[1], &p.t[0]), minus(&p.t[2], &p.t[0]), minus(&p.t[2], &p.t[1])}
	ns, nt := cross(&es[0], &es[1]), cross(&et[0], &et[1])
	ls, lt := 2*productError*reach(&es[0])*reach(&es[1]), 2*productError*reach(&et[0])*reach(&et[1])
	if parts(&ns, ls) || parts(&nt, lt) {
		return true
	}
	for i := range es {
		for j := range et {
			n := cross(&es[i], &et[j])
			if parts(&n, 2*productError*reach(&es[i])*reach(&et[j])) {
				return true
			}
		}
	}
	for i := range es {
		n := cross(&ns, &es[i])
		if parts(&n, 2*ls*reach(&es[i])) {
			return true
		}
		if n = cross(&nt, &et[i]); parts(&n, 2*lt*reach(&et[i])) {
			return true
		}
	}
	return false
}
