package mend

import (
	"context"

	"grainstack/slicing/arrange"
	"grainstack/slicing/mesh"
)

// prepare sews seams, drops doubles and debris and makes the facets of each shell agree.
func (b *bench) prepare(ctx context.Context) error {
	b.report("sewing open seams", 0)
	m, adj, welded, split, err := closeSeams(ctx, b.m, b.adj)
	if err != nil {
		return err
	}
	b.m, b.adj = m, adj
	b.did(Welded, welded, 0)
	b.did(Split, split, 0)
	twice, err := doubles(ctx, b.m)
	if err != nil {
		return err
	}
	if len(twice) > 0 {
		b.take(without(b.m, twice))
		b.did(Deduplicated, len(twice), 0)
	}
	b.report("turning facets to agree", 0.03)
	if err := b.agree(ctx); err != nil {
		return err
	}
	return b.dropDebris(ctx)
}

// agree turns the facets that face against the greater part of their shell.
func (b *bench) agree(ctx context.Context) error {
	sides := looseSides(b.m, b.adj)
	if len(sides) == 0 {
		return nil
	}
	g, err := groupsOf(ctx, b.adj, sides)
	if err != nil {
		return err
	}
	if _, odd := g.minority(b.m); len(odd) > 0 {
		b.take(turnedOver(b.m, odd))
		b.did(Turned, len(odd), 0)
	}
	return nil
}

// dropDebris leaves out the shells that are too small, but not hollows within the wood, nor a small shell that sticks out of
// a larger one: an ear or a nose that was scanned by itself.
func (b *bench) dropDebris(ctx context.Context) error {
	if b.set.DebrisShare < 0 {
		return nil
	}
	g, shells, err := b.shells(ctx)
	if err != nil || len(shells) < 2 {
		return err
	}
	small := make([]bool, len(shells))
	var bits []bit
	var t *windingTree
	for i := range shells {
		if !isDebris(shells, i, b.set.DebrisShare) {
			continue
		}
		if shells[i].Closed {
			if t == nil {
				if t, err = newWindingTree(ctx, b.m); err != nil {
					return err
				}
			}
			if shells[i].Inward && around(t, &g, shells, int32(i), arrange.Tolerance(b.m)) > 0.5 {
				continue
			}
			if shows(shells[i], b.m, b.set) && runsThrough(t, &g, shells, int32(i), arrange.Tolerance(b.m)) {
				continue
			}
		}
		small[i] = true
		bits = append(bits, bit{abs(shells[i].Volume), shells[i].Box.Center()})
	}
	if len(bits) == 0 {
		return nil
	}
	b.take(keeping(b.m, func(i int) bool { return !small[g.of[i]] }))
	b.leftOut(Dropped, bits)
	return nil
}

// WithoutDebris is m without the shells that mending drops for being under a share of the largest one's volume, its seams
// sewn; m itself where none is. adj is m.Adjacency().
func WithoutDebris(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, share float64) (*mesh.Mesh, error) {
	b := &bench{m: m, adj: adj, set: Settings{DebrisShare: share, MmPerUnit: 1}, report: func(string, float64) {}}
	if err := b.prepare(ctx); err != nil {
		return nil, err
	}
	if n := len(b.actions); n == 0 || b.actions[n-1].Kind != Dropped {
		return m, nil
	}
	return b.m, nil
}
