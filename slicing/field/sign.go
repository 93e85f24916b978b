package field

import (
	"context"
	"sync/atomic"

	"grainstack/slicing/par"
)

// sign turns count from crossings into how many shells each node lies in: more than zero is inside. Where all rays along Z
// come out even that is their sum so far; else the three axes vote, and count becomes 0, 1, or 2 for more than one shell.
func (b *builder) sign(ctx context.Context, _ *meter) error {
	even, err := b.sum(ctx, alongZ)
	if err != nil {
		return err
	}
	if even {
		return b.findOverlap(ctx)
	}
	votes := make([]int8, len(b.count))
	if err := b.vote(ctx, alongZ, votes); err != nil {
		return err
	}
	for _, a := range []axis{alongX, alongY} {
		if err := b.recount(ctx, a); err != nil {
			return err
		}
		if _, err := b.sum(ctx, a); err != nil {
			return err
		}
		if err := b.vote(ctx, a, votes); err != nil {
			return err
		}
	}
	err = par.Spans(ctx, len(votes), nodeSpan, func(from, to int) {
		for n := from; n < to; n++ {
			b.count[n] = tally(votes[n])
		}
	})
	if err != nil {
		return err
	}
	return b.findOverlap(ctx)
}

// nodeSpan is how many nodes a goroutine takes at a time.
const nodeSpan = 1 << 16

// findOverlap sees whether any node lies in more than one shell.
func (b *builder) findOverlap(ctx context.Context) error {
	var found atomic.Bool
	err := par.Spans(ctx, len(b.count), nodeSpan, func(from, to int) {
		most := int16(0)
		for _, c := range b.count[from:to] {
			most = max(most, c)
		}
		if most > 1 {
			found.Store(true)
		}
	})
	b.overlap = found.Load()
	return err
}

// buried reports whether the surface of facet t at q lies in the wood: a step behind it are several shells and a step before
// it is still one. Where another shell's surface is less than a step away either answer may come.
func (b *builder) buried(q vec, t int32) bool {
	f := b.facet(t)
	n := flatOf(&f).n
	return b.countAt(q.along(n, -1)) > 1 && b.countAt(q.along(n, 1)) > 0
}

// countAt is in how many shells the node nearest to p lies.
func (b *builder) countAt(p vec) int16 {
	g := b.grid
	i, j, k := int(p.x+0.5), int(p.y+0.5), int(p.z+0.5)
	return b.count[(k*g.ny+j)*g.nx+i]
}

// recount counts crossings with the rays along another axis.
func (b *builder) recount(ctx context.Context, a axis) error {
	area := b.grid.nx * b.grid.ny
	return par.Spans(ctx, len(b.buckets.start)-1, 1, func(s, _ int) {
		k0, k1 := s*slab, min((s+1)*slab, b.grid.nz)
		clear(b.count[k0*area : k1*area])
		rays := b.rays(a, k0, k1)
		for n, t := range b.buckets.items[b.buckets.start[s]:b.buckets.start[s+1]] {
			f := b.facet(t)
			if (n%chunk == 0 || f.large()) && ctx.Err() != nil {
				return
			}
			rays.cross(&f)
		}
	})
}

// sum adds the crossings up along every ray and reports whether all came out even, as they do for a closed mesh.
func (b *builder) sum(ctx context.Context, a axis) (even bool, err error) {
	g := b.grid
	odd := make([]bool, max(g.ny, g.nz))
	if a == alongZ {
		err = par.Spans(ctx, g.ny, 4, func(j0, j1 int) {
			area := g.nx * g.ny
			for n := area + j0*g.nx; n < len(b.count); n += area {
				before, here := b.count[n-area:][:(j1-j0)*g.nx], b.count[n:][:(j1-j0)*g.nx]
				for i := range here {
					here[i] += before[i]
				}
			}
			odd[j0] = anySet(b.count[len(b.count)-area+j0*g.nx:][:(j1-j0)*g.nx])
		})
	} else {
		on := 1
		if a == alongY {
			on = g.nx
		}
		err = par.Spans(ctx, g.nz, 2, func(k0, k1 int) {
			for k := k0; k < k1; k++ {
				plane := b.count[k*g.nx*g.ny:][:g.nx*g.ny]
				for n := on; n < len(plane); n++ {
					if a == alongX && n%g.nx == 0 {
						continue
					}
					plane[n] += plane[n-on]
				}
			}
		})
	}
	for _, o := range odd {
		if o {
			return false, err
		}
	}
	return true, err
}

func anySet(counts []int16) bool {
	for _, c := range counts {
		if c != 0 {
			return true
		}
	}
	return false
}

// vote adds what one axis says of each node: 2 for or against where its ray came out even; 1 where it did not but says the
// same seen from either end; nothing where it does not. An even ray in more than one shell adds several besides.
func (b *builder) vote(ctx context.Context, a axis, votes []int8) error {
	g := b.grid
	return par.Spans(ctx, g.nz, 2, func(k0, k1 int) {
		for k := k0; k < k1; k++ {
			for j := range g.ny {
				row := (k*g.ny + j) * g.nx
				for i := range g.nx {
					end := row + g.nx - 1
					switch a {
					case alongY:
						end = (k*g.ny+g.ny-1)*g.nx + i
					case alongZ:
						end = ((g.nz-1)*g.ny+j)*g.nx + i
					}
					votes[row+i] += opinion(b.count[row+i], b.count[end])
				}
			}
		}
	})
}

// several is the vote for more than one shell: more than all other votes together, so that both can be read.
const several = 16

// opinion of a node from the sum before it and the sum of its whole ray.
func opinion(before, all int16) int8 {
	inside, insideBack := before > 0, before-all > 0
	switch {
	case inside != insideBack:
		return 0
	case all != 0 && inside:
		return 1
	case all != 0:
		return -1
	case before > 1:
		return 2 + several
	case inside:
		return 2
	}
	return -2
}

// tally is 0 outside, 1 inside, 2 inside more than one shell.
func tally(votes int8) int16 {
	deep := (votes + several/2) / several
	switch {
	case votes-deep*several <= 0:
		return 0
	case deep > 0:
		return 2
	}
	return 1
}
