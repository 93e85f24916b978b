package fieldtest

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"slices"
)

// A point is a corner, mm.
type point [3]float64

// A solid is a surface as it was read back from a binary STL: corners that are equal to the last bit are one.
type solid struct {
	points []point
	facets [][3]int32
}

// readSTL reads a binary STL.
func readSTL(path string) (*solid, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if len(data) < 84 || len(data) != 84+50*int(binary.LittleEndian.Uint32(data[80:])) {
		return nil, fmt.Errorf("%s is no whole binary STL", path)
	}
	s := &solid{}
	seen := make(map[[3]float32]int32)
	for at := 84; at < len(data); at += 50 {
		var f [3]int32
		for k := range f {
			var p [3]float32
			for i := range p {
				p[i] = math.Float32frombits(binary.LittleEndian.Uint32(data[at+12+12*k+4*i:]))
				if p[i] != p[i] || math.IsInf(float64(p[i]), 0) {
					return nil, fmt.Errorf("%s: a corner is not finite", path)
				}
				p[i] += 0 // -0 is 0
			}
			n, ok := seen[p]
			if !ok {
				n = int32(len(s.points))
				seen[p] = n
				s.points = append(s.points, point{float64(p[0]), float64(p[1]), float64(p[2])})
			}
			f[k] = n
		}
		s.facets = append(s.facets, f)
	}
	return s, nil
}

// open is how many edges have not as many facets on one side as on the other.
func (s *solid) open() int {
	edges := make(map[[2]int32]int32, 3*len(s.facets)/2)
	for _, f := range s.facets {
		for k := range 3 {
			if a, b := f[k], f[(k+1)%3]; a < b {
				edges[[2]int32{a, b}]++
			} else if b < a {
				edges[[2]int32{b, a}]--
			}
		}
	}
	n := 0
	for _, v := range edges {
		if v != 0 {
			n++
		}
	}
	return n
}

// volume is by the divergence theorem, mm³.
func (s *solid) volume() float64 {
	v := 0.0
	for _, f := range s.facets {
		v += s.under(f)
	}
	return v
}

// under is a facet's share of the volume: the tetrahedron that it makes with the first corner of all.
func (s *solid) under(f [3]int32) float64 {
	o := s.points[0]
	a, b, c := s.points[f[0]].from(o), s.points[f[1]].from(o), s.points[f[2]].from(o)
	return (a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])) / 6
}

func (p point) from(o point) point { return point{p[0] - o[0], p[1] - o[1], p[2] - o[2]} }

// box is the least and the greatest of each axis.
func (s *solid) box() (low, high point) {
	low, high = s.points[0], s.points[0]
	for _, p := range s.points {
		for i := range p {
			low[i], high[i] = math.Min(low[i], p[i]), math.Max(high[i], p[i])
		}
	}
	return low, high
}

// A body is a shell that hangs together by its corners; a cavity's volume is negative.
type body struct {
	volume    float64
	low, high point
}

// bodies are the solid's, the largest first.
func (s *solid) bodies() []body {
	parent := make([]int32, len(s.points))
	for i := range parent {
		parent[i] = int32(i)
	}
	root := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, f := range s.facets {
		a := root(f[0])
		parent[root(f[1])] = a
		parent[root(f[2])] = a
	}
	all := make(map[int32]*body)
	for _, f := range s.facets {
		b := all[root(f[0])]
		if b == nil {
			b = &body{low: s.points[f[0]], high: s.points[f[0]]}
			all[root(f[0])] = b
		}
		b.volume += s.under(f)
		for _, n := range f {
			for i, v := range s.points[n] {
				b.low[i], b.high[i] = math.Min(b.low[i], v), math.Max(b.high[i], v)
			}
		}
	}
	out := make([]body, 0, len(all))
	for _, b := range all {
		out = append(out, *b)
	}
	slices.SortFunc(out, func(a, b body) int { return int(math.Copysign(1, b.volume-a.volume)) })
	return out
}

// A span is wood on an upright line, from a height to another.
type span struct{ low, high float64 }

// A prober finds where upright lines go through a solid.
type prober struct {
	s        *solid
	low      point
	cell     float64
	nx, ny   int
	facetsOf [][]int32 // by cell
}

// newProber sorts the facets into square cells. Upright ones are left out: no upright line goes through them.
func newProber(s *solid, cell float64) *prober {
	low, high := s.box()
	p := &prober{s: s, low: low, cell: cell, nx: int((high[0]-low[0])/cell) + 1, ny: int((high[1]-low[1])/cell) + 1}
	p.facetsOf = make([][]int32, p.nx*p.ny)
	for n, f := range s.facets {
		c := [3]point{s.points[f[0]], s.points[f[1]], s.points[f[2]]}
		if (c[1][0]-c[0][0])*(c[2][1]-c[0][1]) == (c[1][1]-c[0][1])*(c[2][0]-c[0][0]) {
			continue
		}
		y0, y1 := p.column(min(c[0][1], c[1][1], c[2][1]), 1, p.ny), p.column(max(c[0][1], c[1][1], c[2][1]), 1, p.ny)
		for y := y0; y <= y1; y++ {
			from, to := across(c, low[1]+float64(y)*cell, low[1]+float64(y+1)*cell)
			for x := p.column(from-askew, 0, p.nx); x <= p.column(to+askew, 0, p.nx); x++ {
				p.facetsOf[y*p.nx+x] = append(p.facetsOf[y*p.nx+x], int32(n))
			}
		}
	}
	return p
}

// across is from where to where along x a triangle goes between two lines along x.
func across(c [3]point, y0, y1 float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	add := func(x float64) { from, to = min(from, x), max(to, x) }
	for k, a := range c {
		b := c[(k+1)%3]
		if a[1] >= y0 && a[1] <= y1 {
			add(a[0])
		}
		for _, y := range [2]float64{y0, y1} {
			if (a[1] < y) != (b[1] < y) {
				add(a[0] + (b[0]-a[0])*(y-a[1])/(b[1]-a[1]))
			}
		}
	}
	if from > to { // beside the outermost lines, by rounding
		return min(c[0][0], c[1][0], c[2][0]), max(c[0][0], c[1][0], c[2][0])
	}
	return from, to
}

func (p *prober) column(v float64, axis, n int) int {
	return min(max(int((v-p.low[axis])/p.cell), 0), n-1)
}

// askew moves lines off the lattices that programs like to put corners on.
const askew = 1.2345e-4

// leastSpan is the least wood on a line that counts, mm.
const leastSpan = 1e-6

// wood is what of the upright line through x, y lies in the solid, by counting the facets that it goes through; the sign of a
// facet says whether wood begins or ends there, so that shells that overlap count once.
func (p *prober) wood(x, y float64) []span {
	x, y = x+askew, y+0.7*askew
	if x < p.low[0] || y < p.low[1] || x > p.low[0]+float64(p.nx)*p.cell || y > p.low[1]+float64(p.ny)*p.cell {
		return nil
	}
	type crossing struct {
		z float64
		n int
	}
	var all []crossing
	for _, n := range p.facetsOf[p.column(y, 1, p.ny)*p.nx+p.column(x, 0, p.nx)] {
		f := p.s.facets[n]
		a, b, c := p.s.points[f[0]], p.s.points[f[1]], p.s.points[f[2]]
		u := (b[0]-a[0])*(y-a[1]) - (b[1]-a[1])*(x-a[0])
		v := (c[0]-b[0])*(y-b[1]) - (c[1]-b[1])*(x-b[0])
		w := (a[0]-c[0])*(y-c[1]) - (a[1]-c[1])*(x-c[0])
		sum := u + v + w
		if sum == 0 || !(u >= 0 && v >= 0 && w >= 0 || u <= 0 && v <= 0 && w <= 0) {
			continue
		}
		way := -1 // seen from below a facet that faces down lets wood begin
		if sum > 0 {
			way = 1
		}
		all = append(all, crossing{(v*a[2] + w*b[2] + u*c[2]) / sum, way})
	}
	slices.SortFunc(all, func(a, b crossing) int {
		if a.z != b.z {
			return int(math.Copysign(1, a.z-b.z))
		}
		return a.n - b.n
	})
	var out []span
	deep := 0
	for _, c := range all {
		before := deep
		deep -= c.n
		if before <= 0 && deep > 0 {
			out = append(out, span{c.z, c.z})
		} else if before > 0 && deep <= 0 {
			if out[len(out)-1].high = c.z; c.z-out[len(out)-1].low < leastSpan {
				out = out[:len(out)-1]
			}
		}
	}
	return out
}

// shared is how much wood two upright lines have at the same heights, mm.
func shared(a, b []span) (sum float64) {
	for _, p := range a {
		for _, q := range b {
			sum += max(0, min(p.high, q.high)-max(p.low, q.low))
		}
	}
	return sum
}
