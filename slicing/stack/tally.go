package stack

// put adds one sloping facet. With S its signed shade, the solid's volume below h is the sum over all facets of
// ∫ min(z-h, 0) dS: the flux through the surface of a field that points along Z and has divergence 1 below h and 0 above.
// Below its middle corner the part of a facet under h is a triangle at its lowest corner; above it the facet less a triangle
// at its highest. The section's area is the derivative of the volume, its perimeter a hat over the facet's range.
func (t *tally) put(f *facet, l *ladder) {
	a, b, c := f.z[0], f.z[1], f.z[2]
	na := l.from(a)
	nb := na
	for nb < len(l.z) && l.z[nb] < b {
		nb++
	}
	nc := nb
	for nc < len(l.z) && l.z[nc] < c {
		nc++
	}
	t.farSide(f, nb)
	if na < nb {
		t.corner(f, l.z, na, nb, 0, 1)
	}
	if nb < nc {
		t.corner(f, l.z, nb, nc, 2, -1)
	}
	if a == b && na < len(l.z) && l.z[na] == a {
		t.nodes[na].jump += 2 * f.wall / (c - a)
	}
	if b == c && nc < len(l.z) && l.z[nc] == c {
		t.nodes[nc].jump -= 2 * f.wall / (c - a)
	}
}

// farSide adds the whole facet to the nodes from n on.
func (t *tally) farSide(f *facet, n int) {
	o := &t.far[n]
	const third = 1.0 / 3
	s := f.shade * third
	sz := f.z[0] + f.z[1] + f.z[2]
	o.shade += f.shade
	o.lift += s * sz
	o.skin += f.skin
	for k, v := range [2]*[3]float64{&f.x, &f.y} {
		sv := v[0] + v[1] + v[2]
		o.first[k] += s * sv
		o.twisted[k] += s * 0.25 * (sv*sz + v[0]*f.z[0] + v[1]*f.z[1] + v[2]*f.z[2])
	}
	r := &o.rows[f.side]
	r[0] += f.rows[0]
	r[1] += f.rows[1]
}

// corner adds (sign 1) or takes away (sign -1) the triangle between a facet's corner k and the plane at each node of
// [from, to).
func (t *tally) corner(f *facet, z []float64, from, to, k int, sign float64) {
	p, q := (k+1)%3, (k+2)%3
	h0 := f.z[k]
	ip, iq := 1/(f.z[p]-h0), 1/(f.z[q]-h0)
	x0, y0 := f.x[k], f.y[k]
	const third = 1.0 / 3
	dx := ((f.x[p]-x0)*ip + (f.x[q]-x0)*iq) * third // shift of the triangle's middle, per mm
	dy := ((f.y[p]-y0)*ip + (f.y[q]-y0)*iq) * third
	grow := ip * iq
	hat := 2 * f.wall * grow * sign
	rx, ry := f.rows[0]*sign, f.rows[1]*sign
	shade, skin := f.shade*sign, f.skin*sign
	for i := from; i < to; i++ {
		n := &t.nodes[i]
		d := z[i] - h0 // negative at the highest corner
		share := d * d * grow
		s := shade * share
		v := s * d * third
		n.volume -= v
		n.area -= s
		n.moment[0] -= v * (x0 + 0.75*d*dx)
		n.moment[1] -= v * (y0 + 0.75*d*dy)
		n.first[0] -= s * (x0 + d*dx)
		n.first[1] -= s * (y0 + d*dy)
		n.rim += hat * d
		n.skin += skin * share
		r := &n.rows[f.side]
		r[0] += rx * share
		r[1] += ry * share
	}
}
