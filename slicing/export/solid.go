package export

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// LayerSolids makes the layers with the given numbers, from 1, of figures that belong to the standing: each one closed
// solid in the frame of the stand, mm, in the order asked for.
//
// A layer is the piece's skin between its two planes, its hollow, and the joint faces. The skin is the piece's own, but for
// points within a millionth of the piece's extent of a joint, which are put on it, and rounding to float32. Joints lie at
// the nearest float32. It holds the layer's parts and nothing else; slivers are left out. Two neighbours have the same points along a joint, bit for bit, where both have the same hollow. A
// carved hollow is that of a field.Block: it holds as much as the figures say, and what no cutter gets into stays wood. An upright hollow is the layer's Pocket. The figures' wall has to be a step of the
// field at the least, and the hollow has to be known.
func LayerSolids(ctx context.Context, st *job.Standing, f *job.Figures, layers []int) ([]LayerSolid, error) {
	if err := fitting(st, f, layers); err != nil {
		return nil, err
	}
	c, err := newCut(ctx, st, f, layers)
	if err != nil {
		return nil, err
	}
	out := make([]LayerSolid, len(layers))
	benches, faults := make([]*bench, par.Count()), make([]error, len(layers))
	err = par.Workers(ctx, len(layers), 1, func(worker, i, _ int) {
		if benches[worker] == nil {
			benches[worker] = newBench(c)
		}
		out[i], faults[i] = benches[worker].layer(ctx, i)
	})
	if err := cmp.Or(err, errors.Join(faults...)); err != nil {
		return nil, err
	}
	for i, m := range out {
		if len(m.Triangles) == 0 {
			return nil, fmt.Errorf("layer %d has no wood", layers[i])
		}
	}
	return out, nil
}

// fitting refuses what no solids can be made of.
func fitting(st *job.Standing, f *job.Figures, layers []int) error {
	if !st.Piece.Solid() {
		return errors.New(st.Piece.NoInside() + ": mend the piece before layers are written as solids")
	}
	for i, n := range layers {
		if n < 1 || n > len(f.Layers) {
			return fmt.Errorf("there is no layer %d in a stack of %d", n, len(f.Layers))
		}
		if slices.Contains(layers[:i], n) {
			return fmt.Errorf("layer %d is asked for twice", n)
		}
	}
	if f.For.Wall == 0 {
		return nil
	}
	if st.Grid == nil {
		return errors.New("the hollow is still being worked out: wait for it before layers are written as solids")
	}
	if step := st.Grid.Step() * st.Placed.Placement.Scale; f.For.Wall < step {
		return fmt.Errorf("a wall of %.1f mm is too thin to be told apart on a piece of this size: make it %.1f mm or more", f.For.Wall, step)
	}
	return nil
}

// A cut is a piece divided by its joints. Places along the height are counted by odd numbers for joints and even ones for
// the layers between: 2k is within layer k, from 0, and 2k+1 on the joint above it.
type cut struct {
	st     *job.Standing
	f      *job.Figures
	mesh   *mesh.Mesh
	joints []float64 // heights, each a float32
	parts  *stack.Division
	layers []int   // those wanted, from 0
	start  []int32 // of each wanted layer's triangles in items
	items  []int32
	hollow *field.Lattice // nil without a carved one
}

func newCut(ctx context.Context, st *job.Standing, f *job.Figures, layers []int) (*cut, error) {
	c := &cut{st: st, f: f, mesh: st.Placed.Mesh}
	for _, n := range layers {
		c.layers = append(c.layers, n-1)
	}
	for i := range len(f.Layers) - 1 {
		c.joints = append(c.joints, float64(float32(f.Layers[i].Top)))
	}
	var err error
	if c.parts, err = divided(ctx, st, f); err != nil {
		return nil, err
	}
	if err := c.sort(ctx); err != nil {
		return nil, err
	}
	if f.For.Wall > 0 && f.For.Core == job.Carved {
		if c.hollow, err = field.NewLattice(ctx, st.Grid, st.Placed.Placement, st.Placed.Box, f.For.Wall); err != nil {
			return nil, err
		}
	}
	return c, ctx.Err()
}

// between are the heights of a layer, from 0: its joints, or the piece's ends.
func (c *cut) between(k int) (bottom, top float64) {
	bottom, top = c.st.Placed.Box.Min.Z, c.st.Placed.Box.Max.Z
	if k > 0 {
		bottom = c.joints[k-1]
	}
	if k < len(c.joints) {
		top = c.joints[k]
	}
	return bottom, top
}

// span is how many points or triangles one goroutine takes at a time.
const span = 1 << 14

// divided is which pieces the layers have: as the figures found where they are of this very surface.
func divided(ctx context.Context, st *job.Standing, f *job.Figures) (*stack.Division, error) {
	if _, d := f.Made(); d != nil && d.Divides(st.Placed.Mesh) {
		return d, nil
	}
	slabs := make([]stack.Slab, len(f.Layers))
	for i, l := range f.Layers {
		slabs[i] = l.Slab
	}
	return stack.Divide(ctx, st.Slicer, slabs)
}

// reach is the first and the last layer that a triangle has a share of; from > to for one that lies in a joint.
func (c *cut) reach(t mesh.Triangle) (from, to int32) {
	p, q, r := c.parts.Class(t[0]), c.parts.Class(t[1]), c.parts.Class(t[2])
	return (min(p, q, r) + 1) / 2, max(p, q, r) / 2
}

// sort lists the triangles of each wanted layer: count, add up, write.
func (c *cut) sort(ctx context.Context) error {
	slot := make([]int32, len(c.f.Layers)) // of each layer, one more than its place in c.layers
	for i, k := range c.layers {
		slot[k] = int32(i + 1)
	}
	n, wanted := len(c.mesh.Triangles), len(c.layers)
	spans := (n + span - 1) / span
	counts := make([]int, spans*wanted)
	each := func(from, to int, visit func(i int, s int32)) {
		for i := from; i < to; i++ {
			a, b := c.reach(c.mesh.Triangles[i])
			for k := a; k <= b; k++ {
				if slot[k] > 0 && !c.parts.Sliver(i, int(k)) {
					visit(i, slot[k]-1)
				}
			}
		}
	}
	err := par.Spans(ctx, n, span, func(from, to int) {
		count := counts[from/span*wanted:][:wanted]
		each(from, to, func(_ int, s int32) { count[s]++ })
	})
	if err != nil {
		return err
	}
	c.start = make([]int32, wanted+1)
	total := 0
	for s := range wanted {
		c.start[s] = int32(total)
		for j := range spans {
			at := j*wanted + s
			counts[at], total = total, total+counts[at]
		}
		if total > 1<<30 {
			return errors.New("the piece has too many facets for so many layers")
		}
	}
	c.start[wanted] = int32(total)
	c.items = make([]int32, total)
	return par.Spans(ctx, n, span, func(from, to int) {
		next := counts[from/span*wanted:][:wanted]
		each(from, to, func(i int, s int32) {
			c.items[next[s]] = int32(i)
			next[s]++
		})
	})
}

// where is a point of an edge at a height, reckoned from the edge's lower-numbered end so that every triangle and layer has
// the same bits.
func (c *cut) where(i, j int32, z float64) mesh.Point {
	if i > j {
		i, j = j, i
	}
	p, q := c.mesh.Points[i].Vec(), c.mesh.Points[j].Vec()
	s := (z - p.Z) / (q.Z - p.Z)
	v := p.Add(geom.Vec{X: q.X - p.X, Y: q.Y - p.Y}.Scale(s))
	return mesh.Point{float32(v.X), float32(v.Y), float32(z)}
}
