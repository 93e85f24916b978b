package job

import (
	"math"

	"grainstack/slicing/geom"
)

// grown is everything within a distance of a region, by a distance transform (Felzenszwalb and Huttenlocher, Theory of
// Computing 8, 2012) on a raster of a millimetre or so; it is true to half a cell.
func grown(g geom.Region, by float64) geom.Region {
	box := g.Box()
	if box.Empty() || !(by > 0) {
		return g
	}
	out := geom.Vec2{X: by, Y: by}
	c := newCover(geom.Box2{Min: box.Min.Sub(out), Max: box.Max.Add(out)})
	c.fill(g, 1)
	d := c.distances()
	for i, v := range d {
		d[i] = float32(by/c.step) + 0.5 - v // a marked cell is wood up to its edge
	}
	return c.contour(d, coverTolerance)
}

// farOff stands for no marked cell in a row.
const farOff = 1e9

// distances are from the middle of each cell to that of the nearest marked one, in cells.
func (c *cover) distances() []float32 {
	d := make([]float64, len(c.bits))
	for i, b := range c.bits {
		if d[i] = farOff; b != 0 {
			d[i] = 0
		}
	}
	n := max(c.nx, c.ny)
	line, t := make([]float64, n), newLower(n)
	for j := range c.ny {
		t.transform(d[j*c.nx : (j+1)*c.nx])
	}
	for i := range c.nx {
		for j := range c.ny {
			line[j] = d[j*c.nx+i]
		}
		t.transform(line[:c.ny])
		for j := range c.ny {
			d[j*c.nx+i] = line[j]
		}
	}
	out := make([]float32, len(d))
	for i, v := range d {
		out[i] = float32(math.Sqrt(v))
	}
	return out
}

// A lower is scratch for the lower envelope of parabolas.
type lower struct {
	at    []int
	from  []float64
	value []float64
}

func newLower(n int) *lower {
	return &lower{make([]int, n), make([]float64, n+1), make([]float64, n)}
}

// transform replaces f by min over k of f(k) + (i-k)².
func (t *lower) transform(f []float64) {
	copy(t.value, f)
	n := 0
	t.at[0], t.from[0], t.from[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < len(f); q++ {
		s := t.meet(q, t.at[n])
		for s <= t.from[n] {
			n--
			s = t.meet(q, t.at[n])
		}
		n++
		t.at[n], t.from[n], t.from[n+1] = q, s, math.Inf(1)
	}
	k := 0
	for q := range f {
		for t.from[k+1] < float64(q) {
			k++
		}
		d := float64(q - t.at[k])
		f[q] = d*d + t.value[t.at[k]]
	}
}

// meet is where the parabola at q comes below that at p < q.
func (t *lower) meet(q, p int) float64 {
	a, b := float64(q), float64(p)
	return ((t.value[q] + a*a) - (t.value[p] + b*b)) / (2 * (a - b))
}
