package mend

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Settings say how to mend; comparable. The zero value mends with the usual settings once MmPerUnit is set.
type Settings struct {
	Off         bool    // leave the scan as it is; only the saw is used
	DebrisShare float64 // shells with less than this share of the largest one's volume go; 0 is DefaultDebris, negative keeps all
	MmPerUnit   float64 // how long one unit of the scan is; 0 counts as 1
	Resolution  float64 // mm, of the grid where the solid has to be built anew; 0 is a three-hundredth of the longest side
	Saw         Plane
	Smooth      float64 // mm; for the smoothing step, not used by Mend
	Thin        float64 // mm; for the thinning step, not used by Mend
}

// DefaultDebris is the share of the largest shell's volume under which a shell is debris.
const DefaultDebris = 0.001

// A Plane says where the piece is sawn off, in the scan's frame and units: what lies where Normal·p < D goes, and the cut
// is closed flat. Normal need not have length 1.
type Plane struct {
	Normal geom.Vec
	D      float64
	On     bool
}

// An Action is one kind of thing that was done, in a maker's words.
type Action struct {
	Kind   ActionKind
	Count  int
	Text   string
	Volume float64  // mm³, of all that was left out or filled; 0 for other kinds
	Moved  float64  // mm, the most that the surface moved; 0 for other kinds
	At     geom.Vec // where the largest of that lay, or where the surface moved most, in the scan's frame and units
}

// A Result is the solid and what was done to make it. Where nothing had to be done Mesh is the very mesh that was given.
type Result struct {
	Mesh           *mesh.Mesh
	Adjacency      mesh.Adjacency
	Actions        []Action
	Rebuilt        bool
	ResolutionMm   float64 // of the grid, when rebuilt
	DistanceMaxMm  float64 // largest distance between the outside of the scan and the solid, sampled both ways, when rebuilt
	DistanceMeanMm float64 // over the area of both
}

// Noticed is by how much, mm, a surface has to move for that to be told with its place.
const Noticed = 0.5

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

// noVolume is the share of its box below which a volume is only rounding: points carry 24 bits.
const noVolume = 1e-7

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
	if solid, err := b.solid(ctx, len(pairs) > 0); err != nil || !solid {
		return true, err
	}
	if len(b.actions) > 0 {
		b.untie()
	}
	return false, b.saw(ctx)
}

// solid makes one solid of shells that stand: it cuts where they run through one another, and builds those anew that are open.
func (b *bench) solid(ctx context.Context, crossing bool) (done bool, err error) {
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

// closed saws a scan that is open, so that the saw takes what is ragged, and fills what stays open.
func (b *bench) closed(ctx context.Context, p Plane) (*filled, error) {
	b.report("closing holes", 0.06)
	open := slices.Contains(b.adj, -1)
	if open && p.On {
		if err := b.sawAt(ctx, p); err != nil {
			return nil, err
		}
	}
	f, err := fill(ctx, b.m, b.adj)
	if err != nil {
		return nil, err
	}
	b.m, b.adj = f.m, f.adj
	b.did(Filled, f.holes, 0)
	b.did(Based, f.bases, f.sawnLevel)
	return f, nil
}

// saw cuts off at the saw plane and closes the cut.
func (b *bench) saw(ctx context.Context) error {
	if !b.set.Saw.On {
		return nil
	}
	return b.sawAt(ctx, b.set.Saw)
}

func (b *bench) sawAt(ctx context.Context, p Plane) error {
	b.report("sawing off at the plane", 0.9)
	out, whole, err := sawn(ctx, b.m, p)
	if err != nil || whole {
		return err
	}
	out = compact(out)
	b.m, b.adj = capSaw(out, out.Adjacency(), p)
	for _, a := range b.actions {
		if a.Kind == Sawn {
			return nil
		}
	}
	b.did(Sawn, 1, 0)
	return nil
}

// result is what the bench holds, without points that nothing uses where something was done.
func (b *bench) result() *Result {
	if len(b.actions) > 0 {
		b.m = compact(b.m)
		b.adj = b.m.Adjacency()
	}
	mm := b.set.MmPerUnit
	return &Result{Mesh: b.m, Adjacency: b.adj, Actions: b.actions,
		Rebuilt: b.built > 0, ResolutionMm: b.built * mm, DistanceMaxMm: b.moved.most * mm, DistanceMeanMm: b.moved.mean() * mm}
}
