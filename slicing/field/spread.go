package field

import (
	"context"
	"errors"
	"math"

	"grainstack/slicing/par"
)

// A seed is a point of the surface, in grid steps, and the facet it lies on.
type seed struct {
	x, y, z float32
	facet   int32
}

// gatherSeeds numbers the nodes near the surface, keeps the point of the surface nearest to each, and turns near from
// facets to seeds. Surface buried in overlapping shells gives none.
func (b *builder) gatherSeeds(ctx context.Context, m *meter) error {
	g := b.grid
	area := g.nx * g.ny
	first := make([]int, g.nz+1)
	err := b.planes(ctx, m, slab, func(k0, k1 int) {
		for k := k0; k < k1; k++ {
			if b.overlap {
				b.dropBuried(k)
			}
			n := 0
			for _, t := range b.near[k*area : (k+1)*area] {
				if t >= 0 {
					n++
				}
			}
			first[k+1] = n
		}
	})
	if err != nil {
		return err
	}
	for k := range g.nz {
		first[k+1] += first[k]
	}
	if first[g.nz] == 0 {
		return errors.New("field: the mesh has no surface")
	}
	b.seeds = make([]seed, first[g.nz])
	return b.planes(ctx, nil, 1, func(k0, k1 int) {
		for k := k0; k < k1; k++ {
			at := first[k]
			for j := range g.ny {
				row := b.near[(k*g.ny+j)*g.nx:][:g.nx]
				for i, t := range row {
					if t < 0 {
						continue
					}
					f := b.facet(t)
					p, _ := f.nearest(vec{float64(i), float64(j), float64(k)})
					b.seeds[at] = seed{float32(p.x), float32(p.y), float32(p.z), t}
					row[i] = int32(at)
					at++
				}
			}
		}
	})
}

// dropBuried takes their facets from those nodes of plane k whose nearest surface is buried.
func (b *builder) dropBuried(k int) {
	g := b.grid
	for j := range g.ny {
		row := b.near[(k*g.ny+j)*g.nx:][:g.nx]
		for i, t := range row {
			if t < 0 {
				continue
			}
			f := b.facet(t)
			if q, _ := f.nearest(vec{float64(i), float64(j), float64(k)}); b.buried(q, t) {
				row[i] = -1
			}
		}
	}
}

// block is how many neighbouring lines are carried through one pass together: a cache line of nodes.
const block = 16

// spread gives every node a seed: first along x from seeds of the same row, then along y from those of the same plane,
// then along z.
func (b *builder) spread(ctx context.Context, m *meter) error {
	g := b.grid
	envs := make([]envelope, par.Count())
	err := par.Workers(ctx, g.nz, 1, func(w, k0, k1 int) {
		e := &envs[w]
		for k := k0; k < k1; k++ {
			for j := range g.ny {
				row := b.near[(k*g.ny+j)*g.nx:][:g.nx]
				e.alongX(b.seeds, row, float32(j), float32(k))
			}
			for i0 := 0; i0 < g.nx; i0 += block {
				e.lines(b, k*g.nx*g.ny+i0, g.nx, g.ny, min(block, g.nx-i0), func(l int, s *seed) (t, h float32) {
					dx, dz := s.x-float32(i0+l), s.z-float32(k)
					return s.y, dx*dx + dz*dz
				})
			}
		}
		m.add(0.66 * float64(k1-k0) / float64(g.nz))
	})
	if err != nil {
		return err
	}
	return par.Workers(ctx, g.ny, 1, func(w, j0, j1 int) {
		e := &envs[w]
		for j := j0; j < j1; j++ {
			for i0 := 0; i0 < g.nx; i0 += block {
				e.lines(b, j*g.nx+i0, g.nx*g.ny, g.nz, min(block, g.nx-i0), func(l int, s *seed) (t, h float32) {
					dx, dy := s.x-float32(i0+l), s.y-float32(j)
					return s.z, dx*dx + dy*dy
				})
			}
		}
		m.add(0.34 * float64(j1-j0) / float64(g.ny))
	})
}

// An envelope is the lower envelope of parabolas (x-at)² + h over one line of nodes: each parabola is a seed, h its squared
// distance from the line.
type envelope struct {
	at, h, from []float32 // from is where the parabola begins to be the lowest
	seed        []int32
	lane        []int32
}

func (e *envelope) clear() {
	e.at, e.h, e.from, e.seed = e.at[:0], e.h[:0], e.from[:0], e.seed[:0]
}

// push adds a parabola. Parabolas come in the order of their lines' nodes; a seed lies within reach of its node, so they
// are nearly in the order of at as well, and one that comes late takes the place of those before it that it undercuts.
func (e *envelope) push(s int32, at, h float32) {
	from := float32(math.Inf(-1))
	for n := len(e.at) - 1; n >= 0; n-- {
		gap := at - e.at[n]
		if gap < 1e-6 {
			if h >= e.h[n] {
				return
			}
		} else if from = (e.at[n] + at + (h-e.h[n])/gap) / 2; from > e.from[n] {
			break
		}
		e.at, e.h, e.from, e.seed = e.at[:n], e.h[:n], e.from[:n], e.seed[:n]
		from = float32(math.Inf(-1))
	}
	e.at, e.h, e.from, e.seed = append(e.at, at), append(e.h, h), append(e.from, from), append(e.seed, s)
}

// fill writes for each node of the line the seed whose parabola is the lowest there.
func (e *envelope) fill(line []int32) {
	n := 0
	for i := range line {
		for n+1 < len(e.from) && e.from[n+1] <= float32(i) {
			n++
		}
		line[i] = e.seed[n]
	}
}

// alongX spreads the seeds of one row over it.
func (e *envelope) alongX(seeds []seed, row []int32, y, z float32) {
	e.clear()
	for _, s := range row {
		if s >= 0 {
			p := &seeds[s]
			e.push(s, p.x, (p.y-y)*(p.y-y)+(p.z-z)*(p.z-z))
		}
	}
	if len(e.seed) > 0 {
		e.fill(row)
	}
}

// lines spreads seeds along n lines side by side, each of length nodes that lie stride apart, the first beginning at base.
func (e *envelope) lines(b *builder, base, stride, length, n int, of func(l int, s *seed) (t, h float32)) {
	if cap(e.lane) < length*block {
		e.lane = make([]int32, length*block)
	}
	lane := e.lane[:length*block]
	for i := range length {
		for l, s := range b.near[base+i*stride:][:n] {
			lane[l*length+i] = s
		}
	}
	for l := range n {
		e.clear()
		line := lane[l*length:][:length]
		last := int32(-1)
		for _, s := range line {
			if s >= 0 && s != last {
				t, h := of(l, &b.seeds[s])
				e.push(s, t, h)
				last = s
			}
		}
		if len(e.seed) > 0 {
			e.fill(line)
		}
	}
	for i := range length {
		to := b.near[base+i*stride:][:n]
		for l := range to {
			to[l] = lane[l*length+i]
		}
	}
}
