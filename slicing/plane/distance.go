package plane

import "math"

// Endless is the squared distance where nothing is out, or nothing within 46340 steps.
const Endless = math.MaxInt32

// Distances are how far each place of a grid of w by h lies from the nearest one that is out: squared, in steps, exact. With
// rim all that lies beyond the grid is out too. The manner is that of Meijster, Roerdink and Hesselink, "A general algorithm
// for computing distance transforms in linear time" (2000): first along columns, then the lower envelope of parabolas along
// rows.
func Distances(w, h int, out func(i int) bool, rim bool) []int32 {
	d := alongColumns(w, h, out, rim)
	e := envelope{at: make([]int, w+2), from: make([]int, w+2), g: make([]int, w+2)}
	if !rim {
		e.g[0], e.g[w+1] = far, far
	}
	for j := range h {
		row := d[j*w:][:w]
		for i, v := range row {
			e.g[i+1] = int(v)
		}
		e.row(row)
	}
	return d
}

// far stands for further than any grid is wide.
const far = 1 << 28

// alongColumns are the distances in steps along y alone.
func alongColumns(w, h int, out func(i int) bool, rim bool) []int32 {
	d := make([]int32, w*h)
	edge := int32(far)
	if rim {
		edge = 0
	}
	for k := range d {
		before := edge
		if k >= w {
			before = d[k-w]
		}
		if !out(k) {
			d[k] = min(before+1, far)
		}
	}
	for k := len(d) - 1; k >= 0; k-- {
		after := edge
		if k < len(d)-w {
			after = d[k+w]
		}
		d[k] = min(d[k], after+1)
	}
	return d
}

// An envelope is the scratch for one row: parabolas at columns at, each the lowest from column from on.
type envelope struct{ at, from, g []int }

// row fills d, which leaves out the first and the last column of g.
func (e *envelope) row(d []int32) {
	n := 0
	f := func(x, i int) int { return (x-i)*(x-i) + e.g[i]*e.g[i] }
	for u := range e.g {
		if e.g[u] >= far {
			continue
		}
		start := 0
		for n > 0 {
			if i := e.at[n-1]; f(e.from[n-1], i) <= f(e.from[n-1], u) {
				start = 1 + (u*u-i*i+e.g[u]*e.g[u]-e.g[i]*e.g[i])/(2*(u-i))
				break
			}
			n--
		}
		if start < len(e.g) {
			e.at[n], e.from[n] = u, start
			n++
		}
	}
	for x := len(d); x > 0; x-- {
		for n > 1 && e.from[n-1] > x {
			n--
		}
		if n == 0 {
			d[x-1] = Endless
			continue
		}
		d[x-1] = int32(min(f(x, e.at[n-1]), Endless))
	}
}
