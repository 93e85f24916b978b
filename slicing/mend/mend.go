package mend

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/mesh"
)

// Mend makes one true solid of m; adj is m.Adjacency(). progress may be nil; it is called from one goroutine at a time with
// what is being done and the share of all that is done. Called off by ctx it returns with the context's error within 100 ms
// for a million facets. m is not changed. A surface that is closed, faces outward, runs nowhere through itself and has no
// debris comes back as it is.
func Mend(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, s Settings, progress func(step string, done float64)) (*Result, error) {
	if m == nil || len(m.Triangles) == 0 {
		return nil, errors.New("mend: the mesh has no triangles")
	}
	if longest := longestSide(m); !(longest > 0 && longest <= math.MaxFloat32) {
		return nil, errors.New("mend: the mesh has no extent")
	}
	if s.DebrisShare == 0 {
		s.DebrisShare = DefaultDebris
	}
	if !(s.MmPerUnit > 0) {
		s.MmPerUnit = 1
	}
	b := &bench{m: m, adj: adj, set: s, report: rising(progress)}
	if s.Off {
		if err := b.saw(ctx); err != nil {
			return nil, err
		}
		return b.result(), ctx.Err()
	}
	if err := b.prepare(ctx); err != nil {
		return nil, err
	}
	ready := *b
	tangled, err := b.mendExactly(ctx)
	if err != nil {
		return nil, err
	}
	if !tangled {
		return b.result(), ctx.Err()
	}
	return ready.rebuild(ctx, b)
}

// mendExactly closes what is open and checks the whole; tangled says that this did not make a solid.
func (b *bench) mendExactly(ctx context.Context) (tangled bool, err error) {
	f, err := b.closed(ctx, b.set.Saw)
	if err != nil {
		return false, err
	}
	b.report("looking where the surface runs through itself", 0.1)
	pairs, err := b.crossings(ctx)
	if err != nil {
		return false, err
	}
	bad, err := b.ownFill(ctx, f, pairs)
	if err != nil {
		return false, err
	}
	if len(bad) > 0 { // left to the winding number
		b.m, b.adj = f.less(bad)
		if pairs, err = b.crossings(ctx); err != nil {
			return false, err
		}
	}
	if err := b.stand(ctx, pairs); err != nil {
		return false, err
	}
	if solid, err := b.makeSolid(ctx, len(pairs) > 0); err != nil || !solid {
		return true, err
	}
	if len(b.actions) > 0 {
		b.untie()
	}
	return false, b.saw(ctx)
}

// makeSolid makes one solid of shells that stand: it cuts where they run through one another, and builds those anew that are open.
func (b *bench) makeSolid(ctx context.Context, crossing bool) (done bool, err error) {
	switch {
	case slices.Contains(b.adj, -1):
		done, err = b.rebuildOpen(ctx)
	case crossing:
		done, err = b.resolve(ctx)
	default:
		done = true
	}
	size := b.m.Box().Size()
	return done && b.m.Volume() > noVolume*size.X*size.Y*size.Z, err
}
