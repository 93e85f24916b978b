package carve

import (
	"context"
	"fmt"
	"math"
	"sync"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// DefaultStep is the columns' spacing for settled results, DragStep the one while something is dragged; mm.
const (
	DefaultStep = 0.5
	DragStep    = 1.0
)

// Options say how columns are taken.
type Options struct {
	Step      float64       // spacing, mm; 0 stands for DefaultStep
	Thickness float64       // of a panel, mm; 0 stands for that of the thickest slab
	Hollow    Hollow        // nil for a solid piece
	Progress  func(float64) // told the share done, never from two goroutines at once; may be nil
}

// LayerColumns are the columns of one layer within a rectangle that just holds its wood.
type LayerColumns struct {
	stack.Slab
	PanelTop float64   // upper face of the skimmed panel
	Top      HeightMap // the highest wood seen from above, NoWood where there is none
	Bottom   HeightMap // the lowest wood seen from below, NoWood where there is none
	Outside  Trapped   // air outside the piece between the highest and the lowest wood of a column
	Core     Trapped   // hollow between them: it stays wood, and nobody sees it
	Box      geom.Box  // of the wood, to half a column; empty for a layer without wood
	Wood     float64   // mm³, the wood that belongs to the piece: without what is trapped
}

// Trapped is what is not wood but seen by no cutter.
type Trapped struct {
	Volume float64   // mm³
	Map    HeightMap // mm of it in each column, on the columns of the layer; Z is nil where nothing is trapped
	Middle HeightMap // how high on the stand it lies, where Map is more than 0
}

// Reach takes the columns of each slab of a placed piece. The mesh is in the frame of the stand, mm; slabs go from the
// bottom up and do not overlap. Heights are as true as float32, but a column stands for its surroundings: volumes are sums
// over columns. Wood thinner than a thousandth of a millimetre counts as none. It looks at ctx every few milliseconds.
func Reach(ctx context.Context, m *mesh.Mesh, slabs []stack.Slab, o Options) ([]LayerColumns, error) {
	if err := check(slabs); err != nil {
		return nil, err
	}
	if o.Step == 0 {
		o.Step = DefaultStep
	}
	box := m.Box()
	if len(slabs) == 0 || box.Empty() {
		return make([]LayerColumns, len(slabs)), nil
	}
	l, err := newLattice(box, o.Step)
	if err != nil {
		return nil, err
	}
	if l.nx*l.ny*len(slabs) > mostCells {
		return nil, fmt.Errorf("carve: columns every %g mm are too many for %d layers", o.Step, len(slabs))
	}
	b, err := l.bin(ctx, m)
	if err != nil {
		return nil, err
	}
	strips := make([]stripResult, len(b.start)-1)
	scratch := make([]*strip, par.Count())
	stop := func() bool { return ctx.Err() != nil }
	done := meter(o.Progress, len(strips))
	err = par.Workers(ctx, len(strips), 1, func(worker, s, _ int) {
		if scratch[worker] == nil {
			scratch[worker] = newStrip(l, slabs, o.Hollow, stop)
		}
		strips[s] = scratch[worker].run(m, b.of(s), s)
		done()
	})
	if err != nil {
		return nil, err
	}
	return assemble(ctx, &l, slabs, strips, o.Thickness)
}

// check refuses slabs that don't follow one another upwards.
func check(slabs []stack.Slab) error {
	for i, s := range slabs {
		if !(s.Bottom < s.Top) || i > 0 && s.Bottom < slabs[i-1].Top {
			return fmt.Errorf("carve: layer %d does not lie above the one before", i+1)
		}
	}
	return nil
}

// meter turns the end of one of n like pieces of work into a share, told one at a time and never falling.
func meter(tell func(float64), n int) func() {
	if tell == nil {
		return func() {}
	}
	var mu sync.Mutex
	done := 0
	return func() {
		mu.Lock()
		defer mu.Unlock()
		done++
		tell(float64(done) / float64(n))
	}
}

// assemble puts the strips of each layer together.
func assemble(ctx context.Context, l *lattice, slabs []stack.Slab, strips []stripResult, thickness float64) ([]LayerColumns, error) {
	if thickness == 0 {
		for _, s := range slabs {
			thickness = max(thickness, s.Thickness())
		}
	}
	out := make([]LayerColumns, len(slabs))
	err := par.Spans(ctx, len(slabs), 1, func(k, _ int) {
		out[k] = l.layer(k, slabs[k], strips)
		out[k].PanelTop = max(slabs[k].PanelBottom+thickness, slabs[k].Top)
	})
	return out, err
}

func (l *lattice) layer(k int, slab stack.Slab, strips []stripResult) LayerColumns {
	c := LayerColumns{Slab: slab, Box: geom.EmptyBox()}
	i0, i1, j0, j1 := l.nx, 0, l.ny, 0
	for s := range strips {
		if f := &strips[s].layers[k]; f.i0 < f.i1 {
			i0, i1 = min(i0, f.i0), max(i1, f.i1)
			j0, j1 = min(j0, f.j0), max(j1, f.j1)
		}
	}
	if i0 >= i1 {
		return c
	}
	grid := HeightMap{Origin: geom.Vec2{X: l.x(i0), Y: l.y(j0)}, Step: l.step, W: i1 - i0, H: j1 - j0}
	top, bottom := filled(grid.W*grid.H), filled(grid.W*grid.H)
	lo, hi := float32(math.MaxFloat32), NoWood
	for s := range strips {
		f := &strips[s].layers[k]
		n := 0
		for _, r := range f.runs {
			at := (int(r.j)-j0)*grid.W + int(r.i) - i0
			copy(top[at:], f.top[n:n+int(r.n)])
			copy(bottom[at:], f.bottom[n:n+int(r.n)])
			n += int(r.n)
		}
		lo, hi = min(lo, f.low), max(hi, f.high)
		c.Wood += f.wood
	}
	c.Top, c.Bottom = grid.like(top), grid.like(bottom)
	nothing := Trapped{Map: grid.like(nil), Middle: grid.like(nil)}
	c.Outside, c.Core = nothing, nothing
	for s := range strips {
		for _, t := range strips[s].layers[k].trapped {
			at := (int(t.j)-j0)*grid.W + int(t.i) - i0
			c.Outside.put(at, t.outside, t.outsideMid)
			c.Core.put(at, t.core, t.coreMid)
		}
	}
	cell := l.step * l.step
	c.Wood *= cell
	c.Outside.Volume *= cell
	c.Core.Volume *= cell
	half := l.step / 2
	c.Box = geom.Box{
		Min: geom.Vec{X: l.x(i0) - half, Y: l.y(j0) - half, Z: float64(lo)},
		Max: geom.Vec{X: l.x(i1-1) + half, Y: l.y(j1-1) + half, Z: float64(hi)},
	}
	return c
}

// put notes mm of trapped air in a column; Volume is in mm here, until all are in.
func (t *Trapped) put(at int, mm, middle float32) {
	if mm == 0 {
		return
	}
	if t.Map.Z == nil {
		n := t.Map.W * t.Map.H
		t.Map.Z, t.Middle.Z = make([]float32, n), make([]float32, n)
	}
	t.Map.Z[at], t.Middle.Z[at] = mm, middle
	t.Volume += float64(mm)
}

func filled(n int) []float32 {
	z := make([]float32, n)
	for i := range z {
		z[i] = NoWood
	}
	return z
}
