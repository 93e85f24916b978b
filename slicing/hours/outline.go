package hours

import (
	"math"
	"math/bits"
)

type point struct{ x, y float64 }

// An outline is the border of a region on a raster, by marching squares (Lorensen and Cline, SIGGRAPH 1987, in the plane):
// it runs between the middles of places with the region on its left. Where figures are given it passes between two places
// where they reach the height.
type outline struct {
	w       int
	next    []int32 // by edge of the raster: the edge that the border goes on to, less one; 0 for none
	into    []bool  // by edge: the border comes here from another
	touched []int32
	z       []float32
	high    float32
	line    []point
	short   []point
}

// trace finds the border between region and the rest of within.
func (o *outline) trace(region, within *stencil, z []float32, high float32) {
	o.w, o.z, o.high = region.w, z, high
	if n := 2 * region.w * region.h; cap(o.next) < n {
		o.next, o.into = make([]int32, n), make([]bool, n)
	} else {
		o.forget()
		o.next, o.into = o.next[:n], o.into[:n]
	}
	o.touched = o.touched[:0]
	for j := range region.h - 1 {
		a, b := region.row(j), region.row(j+1)
		c, d := within.row(j), within.row(j+1)
		for k := range a {
			a1, b1 := a[k]>>1|carry(a, k), b[k]>>1|carry(b, k)
			all := c[k] & d[k] & (c[k]>>1 | carry(c, k)) & (d[k]>>1 | carry(d, k))
			mixed := (a[k] ^ b[k]) | (a1 ^ b1) | (a[k] ^ a1)
			for v := mixed & all; v != 0; v &= v - 1 {
				n := bits.TrailingZeros64(v)
				o.square(j*o.w+k*64+n, a[k]>>n&1|a1>>n&1<<1|b1>>n&1<<2|b[k]>>n&1<<3)
			}
		}
	}
}

// carry is the lowest bit of the word after k as the highest.
func carry(row []uint64, k int) uint64 {
	if k+1 < len(row) {
		return row[k+1] << 63
	}
	return 0
}

func (o *outline) forget() {
	for _, e := range o.touched {
		o.next[e], o.into[e] = 0, false
	}
}

// ways are the border's stretches in a square by the corners that belong to the region (1 at i, j; 2 at i+1, j; 4 at i+1,
// j+1; 8 at i, j+1), from and to the sides 0 low, 1 right, 2 high, 3 left, with the region on the left. Opposite corners are
// kept apart.
var ways = [16][]uint8{
	1: {0, 3}, 2: {1, 0}, 3: {1, 3}, 4: {2, 1}, 5: {0, 3, 2, 1}, 6: {2, 0}, 7: {2, 3},
	8: {3, 2}, 9: {0, 2}, 10: {1, 0, 3, 2}, 11: {1, 2}, 12: {3, 1}, 13: {0, 1}, 14: {3, 0},
}

func (o *outline) square(at int, corners uint64) {
	side := [4]int{2 * at, 2*(at+1) + 1, 2 * (at + o.w), 2*at + 1} // even: along x from a place, odd: along y
	for w := ways[corners]; len(w) > 0; w = w[2:] {
		from, to := side[w[0]], side[w[1]]
		o.next[from], o.into[to] = int32(to+1), true
		o.touched = append(o.touched, int32(from), int32(to))
	}
}

// each calls do for every line of the border, open ones first, drawn with as few corners as keep it true to 0.6 steps; a
// line is only lent. The trace is used up.
func (o *outline) each(step float64, do func(line []point, closed bool)) {
	for _, open := range [2]bool{true, false} {
		for _, e := range o.touched {
			if o.next[e] == 0 || open && o.into[e] {
				continue
			}
			o.line = o.line[:0]
			at := e
			for o.next[at] != 0 {
				o.line = append(o.line, o.cross(int(at), step))
				to := o.next[at] - 1
				o.next[at] = 0
				at = to
			}
			if closed := at == e; !closed {
				o.line = append(o.line, o.cross(int(at), step))
			}
			o.short = fewer(o.short[:0], o.line, at == e, 0.6*step)
			do(o.short, at == e)
		}
	}
	o.forget()
	o.touched = o.touched[:0]
}

// cross is where the border passes an edge of the raster.
func (o *outline) cross(edge int, step float64) point {
	at := edge / 2
	other := at + 1
	if edge&1 == 1 {
		other = at + o.w
	}
	t := 0.5
	if o.z != nil {
		a, b := o.z[at], o.z[other]
		if a != b {
			t = min(max(float64((o.high-a)/(b-a)), 0), 1)
		}
	}
	x, y := float64(at%o.w), float64(at/o.w)
	if edge&1 == 1 {
		y += t
	} else {
		x += t
	}
	return point{x * step, y * step}
}

// fewer draws a line with as few corners as a single pass finds so that no point lies further than within from it: a corner
// is put where the wedge of directions that meet all points' discs closes (Williams, "Bounded straight-line approximation of
// digitized planar curves and lines", Computer Graphics and Image Processing 16, 1981; from memory). Of a closed line the
// first point is kept.
func fewer(out, line []point, closed bool, within float64) []point {
	if len(line) < 3 {
		return append(out, line...)
	}
	n := len(line)
	if closed {
		n++
	}
	at := func(k int) point { return line[k%len(line)] }
	anchor := at(0)
	out = append(out, anchor)
	var wedge wedge
	for k := 1; k < n; k++ {
		p := at(k)
		if !wedge.takes(anchor, p, within) {
			anchor = at(k - 1)
			out = append(out, anchor)
			wedge.open = false
			wedge.takes(anchor, p, within)
		}
	}
	if !closed {
		out = append(out, at(n-1))
	}
	return out
}

// A wedge is the directions from an anchor that pass all points near enough.
type wedge struct {
	open        bool // something has been taken
	left, right point
}

// takes narrows the wedge by p, or says that p lies outside.
func (w *wedge) takes(anchor, p point, within float64) bool {
	d := point{p.x - anchor.x, p.y - anchor.y}
	far2 := d.x*d.x + d.y*d.y
	if w.open && (cross(w.right, d) < 0 || cross(d, w.left) < 0 || d.x*w.right.x+d.y*w.right.y < 0) {
		return false
	}
	if far2 <= within*within {
		return true
	}
	t := within / math.Sqrt(far2-within*within)
	left, right := point{d.x - t*d.y, d.y + t*d.x}, point{d.x + t*d.y, d.y - t*d.x}
	if !w.open {
		*w = wedge{true, left, right}
		return true
	}
	if cross(left, w.left) > 0 {
		w.left = left
	}
	if cross(w.right, right) > 0 {
		w.right = right
	}
	return true
}

func cross(a, b point) float64 { return a.x*b.y - a.y*b.x }
