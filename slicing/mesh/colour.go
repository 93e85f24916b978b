package mesh

import (
	"math"
)

// Colours are what a scanner saw at the points of its surface, for looking only: red, green and blue as the file gives them,
// 0 to 255. Points and RGB have the same length.
type Colours struct {
	Points []Point
	RGB    [][3]uint8
}

// add takes the colour of one point; parts are from 0 to 1.
func (c *Colours) add(p Point, parts [3]float64) {
	var rgb [3]uint8
	for k, v := range parts {
		rgb[k] = uint8(255*math.Max(0, math.Min(1, v)) + 0.5) // what is no number becomes 0
	}
	c.Points = append(c.Points, p)
	c.RGB = append(c.RGB, rgb)
}

// On gives each triangle of m the colour that was seen nearest to its middle: m may be another surface than the one that was
// seen, mended or thinned. Nothing comes of no colours.
func (c *Colours) On(m *Mesh) [][3]uint8 {
	if c == nil || len(c.Points) == 0 {
		return nil
	}
	b := newBuckets(c.Points)
	out := make([][3]uint8, len(m.Triangles))
	run(len(out), span, func(from, to int) {
		for i := from; i < to; i++ {
			t := m.Triangles[i]
			var middle Point
			for k := range middle {
				middle[k] = (m.Points[t[0]][k] + m.Points[t[1]][k] + m.Points[t[2]][k]) / 3
			}
			out[i] = c.RGB[b.nearest(middle)]
		}
	})
	return out
}

// buckets sort points into the cubes of a grid, about two to a cube of a surface.
type buckets struct {
	points []Point
	low    Point
	cell   float32
	n      [3]int
	start  []int32 // of each cube in order, one more at the end
	order  []int32
}

// mostCubes keeps the grid of a long thin piece small.
const mostCubes = 1 << 22

func newBuckets(points []Point) *buckets {
	e := emptyExtent()
	for _, p := range points {
		e.add(p)
	}
	b := &buckets{points: points, low: e.min}
	size := e.box().Size()
	area := size.X*size.Y + size.Y*size.Z + size.Z*size.X
	cell := math.Sqrt(2 * area / float64(len(points)))
	cell = math.Max(cell, math.Max(size.X, math.Max(size.Y, size.Z))/1000)
	cell = math.Max(cell, math.Cbrt(size.X*size.Y*size.Z/mostCubes))
	if !(cell > 0) {
		cell = 1
	}
	b.cell = float32(cell)
	for k := range b.n {
		b.n[k] = int((e.max[k]-e.min[k])/b.cell) + 1
	}
	b.start = make([]int32, b.n[0]*b.n[1]*b.n[2]+1)
	b.order = make([]int32, len(points))
	at := make([]int32, len(points))
	for i, p := range points {
		at[i] = int32(b.number(b.cube(p)))
		b.start[at[i]+1]++
	}
	for i := 1; i < len(b.start); i++ {
		b.start[i] += b.start[i-1]
	}
	next := append([]int32(nil), b.start...)
	for i := range points {
		b.order[next[at[i]]] = int32(i)
		next[at[i]]++
	}
	return b
}

// cube is the cube that p lies in, the nearest one for a point outside of all.
func (b *buckets) cube(p Point) (c [3]int) {
	for k := range c {
		c[k] = max(0, min(b.n[k]-1, int((p[k]-b.low[k])/b.cell)))
	}
	return c
}

func (b *buckets) number(c [3]int) int { return (c[2]*b.n[1]+c[1])*b.n[0] + c[0] }

// nearest is the number of the point nearest to p: shells of cubes are looked through until no cube further out can hold a
// nearer one.
func (b *buckets) nearest(p Point) int32 {
	c := b.cube(p)
	var off float64 // p may lie outside the grid
	for k := range c {
		d := float64(p[k]-b.low[k]) - (float64(c[k])+0.5)*float64(b.cell)
		off = math.Max(off, math.Abs(d)-float64(b.cell)/2)
	}
	best, least := int32(0), math.Inf(1)
	for r := 0; ; r++ {
		if reach := float64(r-1)*float64(b.cell) - off; r > 0 && reach > 0 && reach*reach > least {
			return best
		}
		inside := false
		for z := c[2] - r; z <= c[2]+r; z++ {
			for y := c[1] - r; y <= c[1]+r; y++ {
				step := 2 * r
				if z == c[2]-r || z == c[2]+r || y == c[1]-r || y == c[1]+r || r == 0 {
					step = 1
				}
				for x := c[0] - r; x <= c[0]+r; x += step {
					if x < 0 || y < 0 || z < 0 || x >= b.n[0] || y >= b.n[1] || z >= b.n[2] {
						continue
					}
					inside = true
					best, least = b.closer([3]int{x, y, z}, p, best, least)
				}
			}
		}
		if !inside && r > 0 {
			return best
		}
	}
}

// closer looks through one cube.
func (b *buckets) closer(c [3]int, p Point, best int32, least float64) (int32, float64) {
	n := b.number(c)
	for _, i := range b.order[b.start[n]:b.start[n+1]] {
		q := b.points[i]
		x, y, z := float64(q[0]-p[0]), float64(q[1]-p[1]), float64(q[2]-p[2])
		if d := x*x + y*y + z*z; d < least {
			best, least = i, d
		}
	}
	return best, least
}
