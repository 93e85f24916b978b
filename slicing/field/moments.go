package field

import (
	"math"

	"grainstack/slicing/geom"
)

const (
	// coarse is how many fine bins make one of the moments' bins: a step.
	coarse = fine
	// perStep is how finely places are kept in moments: a 64th of a step.
	perStep = 64
)

// moments is the coarse table of first moments: like the volume's, with bins of a step and without smearing.
type moments struct {
	na, nb int
	step   float64 // mm
	sum    [][4]int64
}

// layOut sizes the table to hold the bins of t.
func (m *moments) layOut(t *Table, step float64) {
	m.step = step
	m.na, m.nb = t.na/coarse+2, t.nb/coarse+2
}

// add enters one node that lies at x, y, z mm and so many steps deep.
func (m *moments) add(h [][4]int64, x, y, z, depth float64) {
	s := perStep / m.step
	v := [4]int64{1, int64(math.Floor(x*s + 0.5)), int64(math.Floor(y*s + 0.5)), int64(math.Floor(z*s + 0.5))}
	a, f := split(int((z/m.step+pad/coarse-0.5)*unit+0.5), m.na)
	b, e := split(int((depth+0.5)*unit+0.5), m.nb)
	for n, w := range [4]int64{(unit - f) * (unit - e), (unit - f) * e, f * (unit - e), f * e} {
		bin := &h[(a+n>>1)*m.nb+b+n&1]
		for c := range bin {
			bin[c] += w * v[c]
		}
	}
}

// set cumulates the histogram.
func (m *moments) set(h [][4]int64) {
	out := make([][4]int64, (m.na+1)*(m.nb+1))
	for a := range m.na {
		var sum [4]int64
		for b := m.nb - 1; b >= 0; b-- {
			at := &out[(a+1)*(m.nb+1)+b]
			*at = out[a*(m.nb+1)+b]
			for c := range sum {
				sum[c] += h[a*m.nb+b][c]
				at[c] += sum[c]
			}
		}
	}
	m.sum = out
}

// centre is the centre of the core between two heights; ok is false where there is none.
func (m *moments) centre(z0, z1, wall float64) (c geom.Vec, ok bool) {
	lo, hi := m.below(z0, wall), m.below(z1, wall)
	n := hi[0] - lo[0]
	if !(n > 0) {
		return geom.Vec{}, false
	}
	s := m.step / perStep / n
	return geom.Vec{X: hi[1] - lo[1], Y: hi[2] - lo[2], Z: hi[3] - lo[3]}.Scale(s), true
}

// below interpolates the sums below a height.
func (m *moments) below(z, wall float64) [4]float64 {
	a, f := place(z/m.step+pad/coarse, m.na)
	b, e := place(max(wall, 0)/m.step+1, m.nb)
	var out [4]float64
	u, v := float64(f)/blend, float64(e)/blend
	lo, hi := m.sum[a*(m.nb+1)+b:], m.sum[(a+1)*(m.nb+1)+b:]
	for c := range out {
		l := float64(lo[0][c])*(1-v) + float64(lo[1][c])*v
		h := float64(hi[0][c])*(1-v) + float64(hi[1][c])*v
		out[c] = l*(1-u) + h*u
	}
	return out
}
