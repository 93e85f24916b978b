package mend

import (
	"context"
	"slices"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A bench is a mesh on its way through the steps of mending; each step leaves it alone where it finds nothing to do.
type bench struct {
	m       *mesh.Mesh
	adj     mesh.Adjacency
	set     Settings
	actions []Action
	report  func(step string, done float64)
	built   float64 // the grid's step where something was built anew, in units; 0 where nothing was
	moved   way     // by that
}

func (b *bench) did(kind ActionKind, count int, length float64) {
	if count > 0 {
		b.actions = append(b.actions, Action{Kind: kind, Count: count, Text: kind.text(count, length*b.set.MmPerUnit)})
	}
}

// A bit is a piece of the scan that doesn't come into the solid, or a pocket that does.
type bit struct {
	volume float64 // units³, not negative
	at     geom.Vec
}

// leftOut notes bits with their volume and the place of the largest.
func (b *bench) leftOut(kind ActionKind, bits []bit) {
	if len(bits) == 0 {
		return
	}
	b.did(kind, len(bits), 0)
	a := &b.actions[len(b.actions)-1]
	most := bits[0]
	for _, o := range bits {
		a.Volume += o.volume
		if o.volume > most.volume {
			most = o
		}
	}
	mm := b.set.MmPerUnit
	a.Volume *= mm * mm * mm
	a.At = most.at
	if kind == Sheet {
		a.Text += map[bool]string{true: " It lay ", false: " The first of them lay "}[a.Count == 1] + placeIn(a.At, mm) + "."
		return
	}
	if a.Count == 1 {
		a.Text += " It measured " + inCubes(a.Volume, 1) + " and lay " + placeIn(a.At, mm) + "."
		return
	}
	a.Text += " Together they measured " + inCubes(a.Volume, 1) + "; the largest lay " + placeIn(a.At, mm) + "."
}

func (b *bench) take(m *mesh.Mesh) {
	b.m = m.Compact()
	b.adj = b.m.Adjacency()
}

// crossings are the pairs of facets that run through one another.
func (b *bench) crossings(ctx context.Context) ([]boxtree.Pair, error) {
	h, err := boxtree.New(ctx, b.m)
	if err != nil {
		return nil, err
	}
	return arrange.Crossings(ctx, h, false)
}

// shells are the parts that hang together and their measures.
func (b *bench) shells(ctx context.Context) (groups, []Shell, error) {
	sides := looseSides(b.m, b.adj)
	g, err := groupsOf(ctx, b.adj, sides)
	if err != nil {
		return g, nil, err
	}
	s, err := measureShells(ctx, b.m, &g, rimsOf(b.m, b.adj, sides))
	return g, s, err
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
	out = out.Compact()
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
		b.m = b.m.Compact()
		b.adj = b.m.Adjacency()
	}
	mm := b.set.MmPerUnit
	return &Result{Mesh: b.m, Adjacency: b.adj, Actions: b.actions,
		Rebuilt: b.built > 0, ResolutionMm: b.built * mm, DistanceMaxMm: b.moved.most * mm, DistanceMeanMm: b.moved.mean() * mm}
}

// stepFor is the grid's step for a piece of this size, in units: the one asked for in mm or the usual one, coarser where
// the grid would take too much memory.
func stepFor(box geom.Box, s Settings) float64 {
	size := box.Size()
	step := max(size.X, size.Y, size.Z) / autoCells
	if s.Resolution > 0 {
		step = s.Resolution / s.MmPerUnit
	}
	nodes := func(w float64) float64 { return w/step + 2*margin + 3 }
	for nodes(size.X)*nodes(size.Y)*nodes(size.Z) > mostNodes {
		step *= 1.02
	}
	return step
}
