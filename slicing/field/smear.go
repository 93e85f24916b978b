package field

import "math"

// How a node's cell is spread over heights and depths: each alone, where depth doesn't change with height; along, where it grows
// with height as in the lower half of a hollow; against, where it falls.
const (
	lone = iota
	along
	against
	ways
)

const (
	// whole is a node's weight, shared out between spreading lone and together.
	whole = 8
	// variance is that of a smeared node's height in steps², and of its depth: a twelfth for a step spread evenly and a 54th
	// for the share between two bins.
	variance = 1./12 + 1./(6*fine*fine)
	// common is how much of it height and depth have in common where they go together: two thirds of a bin squared for the
	// spread over three, and half of what the share between two bins has.
	common = (2./3 + 1./12) / (fine * fine)
)

// sums are one goroutine's histograms.
type sums struct {
	count  [ways][]int64
	moment [][4]int64
}

func (t *Table) newSums() (s sums) {
	for w := range s.count {
		s.count[w] = make([]int64, t.na*t.nb)
	}
	s.moment = make([][4]int64, t.moments.na*t.moments.nb)
	return s
}

// add takes in what another goroutine counted, in any order.
func (s *sums) add(o sums) {
	if o.moment == nil {
		return
	}
	for w := range s.count {
		for i, c := range o.count[w] {
			s.count[w][i] += c
		}
	}
	for i := range s.moment {
		for c := range 4 {
			s.moment[i][c] += o.moment[i][c]
		}
	}
}

// addRow adds the nodes of one row. A node's share of each of two bins is its distance from the other's middle. Smeared over
// the square of a step times half the variance, depths that bend would come out too deep where the core bulges; that is
// taken off beforehand.
func (t *Table) addRow(s *sums, g *Grid, j, k int, rx, ry, rz rise) {
	from := (k*g.ny + j) * g.nx
	row := g.depth[from:][:g.nx]
	least := float32(-g.step / 2) // the margin keeps nodes at the grid's edges farther outside than that
	perDepth := unit * fine / g.step
	perHeight := unit / t.bin
	const height0, depth0 = (pad-0.5)*unit + 0.5, (fine-0.5)*unit + 0.5
	x0, y0, z0 := rx.of(j, k), ry.of(j, k), rz.of(j, k)
	slope := variance / common * whole / 2 / g.step / (t.bin * fine) // of a difference over two steps along the stand's height
	ux, uy, uz := slope*rz.dx, slope*rz.dy, slope*rz.dz
	up, over := g.nx*g.ny, g.nx
	for i, d := range row {
		if d <= least {
			continue
		}
		n := from + i
		x, y := g.depth[n-1:n+2], g.depth[n-over:n+over+1]
		l, h := g.depth[n-up], g.depth[n+up]
		bend := x[0] + x[2] + y[0] + y[2*over] + l + h - 6*d
		grows := float64(x[2]-x[0])*ux + float64(y[2*over]-y[0])*uy + float64(h-l)*uz
		z := z0 + float64(i)*rz.dx
		a, f := split(int(z*perHeight+height0), t.na)
		b, e := split(int(float64(d+variance/2*bend)*perDepth+depth0), t.nb)
		at := a*t.nb + b
		together := min(int64(math.Abs(grows)+0.5), whole)
		if together < whole {
			put(s.count[lone][at:], t.nb, f, e, whole-together)
		}
		if grows > 0 {
			putAlong(s.count[along][at:], t.nb, f, e, together)
		} else if together > 0 {
			putAgainst(s.count[against][at:], t.nb, f, e, together)
		}
		t.moments.add(s.moment, x0+float64(i)*rx.dx, y0+float64(i)*ry.dx, z, float64(d)/g.step)
	}
}

// put shares a weight out to four bins.
func put(h []int64, nb int, f, e, weight int64) {
	lo, hi := (unit-f)*weight, f*weight
	h[0] += lo * (unit - e)
	h[1] += lo * e
	h[nb] += hi * (unit - e)
	h[nb+1] += hi * e
}

// putAlong shares a weight out to the three bins round a place that keep to the way along.
func putAlong(h []int64, nb int, f, e, weight int64) {
	weight *= unit
	least, most := min(e, f), max(e, f)
	h[0] += weight * (unit - most)
	h[nb+1] += weight * least
	if f > e {
		h[nb] += weight * (most - least)
	} else {
		h[1] += weight * (most - least)
	}
}

// putAgainst shares a weight out to the three bins round a place that keep to the way against.
func putAgainst(h []int64, nb int, f, e, weight int64) {
	weight *= unit
	if both := f + e - unit; both > 0 {
		h[nb+1] += weight * both
		h[nb] += weight * (f - both)
		h[1] += weight * (e - both)
		return
	}
	h[0] += weight * (unit - f - e)
	h[nb] += weight * f
	h[1] += weight * e
}

// smear spreads every bin evenly over a step of height and of depth, three bins each: over the nine of a square what counts
// apart, over the three of a diagonal, three times, what goes together. What would fall off an edge stays there.
func (s *sums) smear(na, nb int) []int64 {
	out := make([]int64, na*nb)
	for a := range na {
		low, mid, high := max(a-1, 0)*nb, a*nb, min(a+1, na-1)*nb
		for b := range nb {
			p, q := max(b-1, 0), min(b+1, nb-1)
			h := s.count[lone]
			sum := h[low+p] + h[low+b] + h[low+q] + h[mid+p] + h[mid+b] + h[mid+q] + h[high+p] + h[high+b] + h[high+q]
			h = s.count[along]
			sum += fine * (h[low+p] + h[mid+b] + h[high+q])
			h = s.count[against]
			sum += fine * (h[low+q] + h[mid+b] + h[high+p])
			out[mid+b] = sum
		}
	}
	return out
}
