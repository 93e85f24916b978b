package mend

import (
	"context"

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
	b.m = compact(m)
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
	var t *Tree
	for i := range shells {
		if !isDebris(shells, i, b.set.DebrisShare) {
			continue
		}
		if shells[i].Closed {
			if t == nil {
				if t, err = NewTree(ctx, b.m); err != nil {
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

// shows reports whether a shell is large enough to be seen in a solid that is built anew from m: two steps of its grid.
func shows(s Shell, m *mesh.Mesh, set Settings) bool {
	size := s.Box.Size()
	return max(size.X, size.Y, size.Z) >= 2*stepFor(m.Box(), set)
}

// isDebris reports whether shell i is under a share of the largest one's volume and, where it is open so that its volume is
// only a guess, under the like share of its area.
func isDebris(shells []Shell, i int, share float64) bool {
	if shells[i].Share >= share {
		return false
	}
	if shells[i].Closed {
		return true
	}
	most := 0.0
	for _, s := range shells {
		most = max(most, s.Area)
	}
	return shells[i].Area < 10*share*most
}
