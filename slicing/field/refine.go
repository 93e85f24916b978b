package field

import (
	"context"
	"math"
)

// A ring lists for each point the triangles round it.
type ring struct{ start, items []int32 }

// ringOf sorts the corners of all triangles by point.
func ringOf(points int, b *builder) ring {
	r := ring{make([]int32, points+2), make([]int32, 3*len(b.triangles))}
	for _, t := range b.triangles {
		r.start[t[0]+2]++
		r.start[t[1]+2]++
		r.start[t[2]+2]++
	}
	for i := 2; i < len(r.start); i++ {
		r.start[i] += r.start[i-1]
	}
	for i, t := range b.triangles {
		for _, v := range t {
			r.items[r.start[v+1]] = int32(i)
			r.start[v+1]++
		}
	}
	return r
}

// of are the triangles round point v.
func (r *ring) of(v int32) []int32 { return r.items[r.start[v]:r.start[v+1]] }

// refine turns each node's seed into its depth.
func (b *builder) refine(ctx context.Context, m *meter) error {
	b.ring = ringOf(len(b.points), b)
	g := b.grid
	deepest := make([]float32, g.nz)
	err := b.planes(ctx, m, 1, func(k, _ int) {
		for j := range g.ny {
			b.refineRow(j, k)
			for _, d := range g.depth[(k*g.ny+j)*g.nx:][:g.nx] {
				deepest[k] = max(deepest[k], d)
			}
		}
	})
	for _, d := range deepest {
		g.deepest = max(g.deepest, float64(d))
	}
	return err
}

func (b *builder) refineRow(j, k int) {
	const far = (outside + 1) * (outside + 1)
	g := b.grid
	row := (k*g.ny + j) * g.nx
	for i := range g.nx {
		n := row + i
		inside := b.count[n] > 0
		s := b.near[n]
		d := float64(b.seeds[s].from(float32(i), float32(j), float32(k)))
		if inside || d < far {
			s, d = b.bestSeed(i, j, k, n)
			if inside || d < outside*outside {
				d = b.exact(vec{float64(i), float64(j), float64(k)}, &b.seeds[s], d)
			}
		}
		depth := math.Sqrt(d) * g.step
		if !inside {
			depth = -depth
		}
		g.depth[n] = float32(depth)
	}
}

// bestSeed is the nearest among the seeds of a node and its six neighbours, with its squared distance in steps².
func (b *builder) bestSeed(i, j, k, n int) (int32, float64) {
	g := b.grid
	x, y, z := float32(i), float32(j), float32(k)
	s := b.near[n]
	d := b.seeds[s].from(x, y, z)
	try := func(n int) {
		if c := b.near[n]; c != s {
			if e := b.seeds[c].from(x, y, z); e < d {
				s, d = c, e
			}
		}
	}
	if i > 0 {
		try(n - 1)
	}
	if i+1 < g.nx {
		try(n + 1)
	}
	if j > 0 {
		try(n - g.nx)
	}
	if j+1 < g.ny {
		try(n + g.nx)
	}
	if k > 0 {
		try(n - g.nx*g.ny)
	}
	if k+1 < g.nz {
		try(n + g.nx*g.ny)
	}
	return s, float64(d)
}

func (s *seed) from(x, y, z float32) float32 {
	x, y, z = s.x-x, s.y-y, s.z-z
	return x*x + y*y + z*z
}

// longestWalk bounds the facets that a walk passes: seeds lie a step apart, so even on the finest scan few are needed.
const longestWalk = 64

// exact is the squared distance from p to the surface near a seed, which lies at squared distance d. Where shells overlap
// the seed's own distance stands if a walk from it ends on surface that is buried.
func (b *builder) exact(p vec, s *seed, d float64) float64 {
	way := b.walk(p, s.facet)
	if b.overlap && b.wood(p.along(way, 1)) {
		return d
	}
	return way.dot(way)
}

// wood reports whether all nodes round a place are inside.
func (b *builder) wood(p vec) bool {
	g := b.grid
	n := (int(p.z)*g.ny+int(p.y))*g.nx + int(p.x)
	for _, n := range [4]int{n, n + g.nx, n + g.nx*g.ny, n + g.nx*g.ny + g.nx} {
		if b.count[n] <= 0 || b.count[n+1] <= 0 {
			return false
		}
	}
	return true
}

// walk is the way from p to the nearest surface near facet t: it goes on to the neighbour across the side or round the
// corner that is nearest to p for as long as that comes nearer.
func (b *builder) walk(p vec, t int32) vec {
	f := b.facet(t)
	q, on := f.nearest(p)
	way := q.sub(p)
	best := way.dot(way)
	for range longestWalk {
		if on == onFace {
			break
		}
		from, to := b.ends(t, on)
		next, nextOn := t, on
		for _, u := range b.ring.of(from) {
			if c := &b.triangles[u]; u == t || to >= 0 && c[0] != to && c[1] != to && c[2] != to {
				continue
			}
			f := b.facet(u)
			q, at := f.nearest(p)
			q = q.sub(p)
			if d := q.dot(q); d < best {
				best, way, next, nextOn = d, q, u, at
			}
		}
		if next == t {
			break
		}
		t, on = next, nextOn
	}
	return way
}

// ends are the two points of the side on which the nearest point lies, or the corner and -1.
func (b *builder) ends(t int32, on touch) (from, to int32) {
	c := &b.triangles[t]
	switch on {
	case onA:
		return c[0], -1
	case onB:
		return c[1], -1
	case onC:
		return c[2], -1
	case onAB:
		return c[0], c[1]
	case onBC:
		return c[1], c[2]
	}
	return c[2], c[0]
}
