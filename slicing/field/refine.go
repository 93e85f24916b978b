package field

import (
	"context"
	"math"
)

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
		d := float64(b.seeds[b.near[n]].from(float32(i), float32(j), float32(k)))
		if inside || d < far {
			d = b.measure(i, j, k, n, inside)
		}
		depth := math.Sqrt(d) * g.step
		if !inside {
			depth = -depth
		}
		g.depth[n] = float32(depth)
	}
}

const (
	// slack over the distance is by how many steps a seed's own distance may exceed that to the surface round it: as seeds
	// lie within a step of each other, half a step aside makes 1/8 over the distance, and a curved surface more.
	slack = 0.8
	// apart is the cosine of the angle between the ways to seeds on different parts of the surface.
	apart = 0.95
)

// measure is the squared distance in steps² of a node from the surface: near the nearest of its own seed and those of its
// six neighbours, and near any other of these that is almost as near but lies elsewhere.
func (b *builder) measure(i, j, k, n int, inside bool) float64 {
	var found [7]candidate
	all := b.candidates(&found, i, j, k, n)
	best := all[0]
	for _, c := range all[1:] {
		if c.d < best.d {
			best = c
		}
	}
	d := float64(best.d)
	if !inside && d >= outside*outside {
		return d
	}
	p, s := vec{float64(i), float64(j), float64(k)}, &b.seeds[best.seed]
	out := b.exact(p, s, d)
	limit := math.Sqrt(out)
	limit += slack / max(limit, 1)
	way := s.vec().sub(p)
	for _, c := range all {
		o, e := &b.seeds[c.seed], float64(c.d)
		if cos := way.dot(o.vec().sub(p)); e < limit*limit && (cos < 0 || cos*cos < apart*apart*d*e) {
			out = min(out, b.exact(p, o, e))
		}
	}
	return out
}

// A candidate is a seed and its squared distance from the node in question.
type candidate struct {
	seed int32
	d    float32
}

// candidates are the different seeds of a node and its neighbours.
func (b *builder) candidates(found *[7]candidate, i, j, k, n int) []candidate {
	g := b.grid
	x, y, z := float32(i), float32(j), float32(k)
	own := b.near[n]
	all := append(found[:0], candidate{own, b.seeds[own].from(x, y, z)})
	try := func(is bool, n int) {
		if is && b.near[n] != own && b.near[n] != all[len(all)-1].seed {
			s := b.near[n]
			all = append(all, candidate{s, b.seeds[s].from(x, y, z)})
		}
	}
	try(i > 0, n-1)
	try(i+1 < g.nx, n+1)
	try(j > 0, n-g.nx)
	try(j+1 < g.ny, n+g.nx)
	try(k > 0, n-g.nx*g.ny)
	try(k+1 < g.nz, n+g.nx*g.ny)
	return all
}

// vec is where the seed lies.
func (s *seed) vec() vec { return vec{float64(s.x), float64(s.y), float64(s.z)} }

// from is the squared distance from a place in steps.
func (s *seed) from(x, y, z float32) float32 {
	x, y, z = s.x-x, s.y-y, s.z-z
	return x*x + y*y + z*z
}

// exact is the squared distance from p to the surface near a seed, which lies at squared distance d. Where shells overlap
// the seed's own distance stands if a walk from it ends on surface that is buried.
func (b *builder) exact(p vec, s *seed, d float64) float64 {
	foot := b.walk(p, s.facet)
	if b.overlap && b.buried(p.along(foot.way, 1), foot.facet) {
		return d
	}
	return foot.d
}
