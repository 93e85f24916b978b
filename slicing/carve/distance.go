package carve

import "math"

// distances are how far each column lies from the nearest one that is out, in mm, between the columns' middles. With rim
// all that lies beyond the map is out too. Where nothing is out the distance is endless. Exact, in the manner of Meijster,
// Roerdink and Hesselink, "A general algorithm for computing distance transforms in linear time" (2000): first along
// columns of the raster, then the lower envelope of parabolas along its rows.
func (m *HeightMap) distances(out func(i int) bool, rim bool) []float32 {
	w := m.W + 2
	d := make([]float32, m.W*m.H)
	up := m.alongColumns(out, rim)
	e := envelope{at: make([]int, w), from: make([]int, w), g: make([]int, w)}
	for j := range m.H {
		for x := range w {
			switch {
			case x > 0 && x < w-1:
				e.g[x] = int(up[j*m.W+x-1])
			case rim:
				e.g[x] = 0
			default:
				e.g[x] = endless
			}
		}
		e.row(d[j*m.W:][:m.W], m.Step)
	}
	return d
}

// endless is further than any map is wide, and its square fits an int.
const endless = 1 << 28

// alongColumns are the distances in steps along y alone.
func (m *HeightMap) alongColumns(out func(i int) bool, rim bool) []int32 {
	far := make([]int32, m.W*m.H)
	edge := int32(endless)
	if rim {
		edge = 0
	}
	for j := range m.H {
		for i := range m.W {
			k := j*m.W + i
			before := edge
			if j > 0 {
				before = far[k-m.W]
			}
			if !out(k) {
				far[k] = min(before+1, endless)
			}
		}
	}
	for j := m.H - 1; j >= 0; j-- {
		for i := range m.W {
			k := j*m.W + i
			after := edge
			if j < m.H-1 {
				after = far[k+m.W]
			}
			far[k] = min(far[k], after+1)
		}
	}
	return far
}

// An envelope is the scratch for one row: parabolas at columns at, each the lowest from column from on.
type envelope struct{ at, from, g []int }

// row fills d, which leaves out the first and the last column of g.
func (e *envelope) row(d []float32, step float64) {
	n := 0
	f := func(x, i int) int { return (x-i)*(x-i) + e.g[i]*e.g[i] }
	for u := range e.g {
		if e.g[u] >= endless {
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
			d[x-1] = math.MaxFloat32
			continue
		}
		d[x-1] = float32(math.Sqrt(float64(f(x, e.at[n-1]))) * step)
	}
}
