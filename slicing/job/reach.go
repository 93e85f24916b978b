package job

import (
	"context"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
	"grainstack/slicing/unit"
)

// A Reached is what the router can and can't do with a stack, and how long it is at it along the cutters' real paths. It is
// for the settings in For and never changes.
type Reached struct {
	For      Settings
	Step     float64       // mm between the columns that it was worked out on
	Sides    []SideReached // two a layer, the upper first, from the floor up
	Maps     []LayerMaps   // one a layer, from the floor up
	Findings []carve.Finding
	Cautions []finding.Finding // the findings put together, worst first, what nobody sees at the end

	Trapped, TrappedCore    float64 // mm³ that no cutter sees: air round the piece, and hollow, which the figures count as wood
	ResidueMax, ResidueMean float64 // mm that the finish cutter leaves where it doesn't fit; the mean is over all wood it sees
	RoughMin, FineMin       float64 // simulated
	HandsOnMin              float64
	EstimatedRoughMin       float64 // what Settle had estimated for the same settings
	EstimatedFineMin        float64
	Tie                     hours.Ratio

	size  geom.Vec // of the piece as it stands
	setup hours.Setup
}

// RouterMin is all time at the machine.
func (r *Reached) RouterMin() float64 { return r.RoughMin + r.FineMin }

// Limit is from how many mm on what a cutter leaves is worth a look.
func (r *Reached) Limit() float64 { return r.For.LimitsInUse().Residue }

// Off is how far the estimate was off, as a share of the simulated time: 0.05 is five percent too long.
func (r *Reached) Off() float64 {
	off, _ := hours.Off(r.estimated(), r.simulated())
	return off
}

func (r *Reached) estimated() hours.SideTime {
	return hours.SideTime{RoughMin: r.EstimatedRoughMin, FinishMin: r.EstimatedFineMin}
}

func (r *Reached) simulated() hours.SideTime {
	return hours.SideTime{RoughMin: r.RoughMin, FinishMin: r.FineMin}
}

// A SideReached is one side of one layer.
type SideReached struct {
	Layer    int
	Side     carve.Side
	Time     hours.SideTime
	Depth    float64         // mm that the finish cutter goes below the face
	Levels   int             // of the rough pass, the skim among them
	Findings []carve.Finding // those of both sides stand with the upper
}

// LayerMaps show where wood stays in one layer: mm of it in each column, seen from above. A map whose Z is nil holds nothing.
// Trapped places below the limit for a finding are left out.
type LayerMaps struct {
	Trapped, TrappedCore carve.HeightMap
	Residue              [2]carve.HeightMap // by side: where the finish cutter doesn't fit
	Top, Bottom          carve.HeightMap    // the highest and the lowest wood, carve.NoWood where there is none
}

// Reach works out what the cutters reach, on columns step mm apart, from figures that Settle gave for this standing; withheld
// figures are an error. A step of 0 stands for half a millimetre, or more where the piece is too large for that, which a caution
// tells. Parts are held by tabs on the stand, told by layer from the floor up; without any, minutes are those of parts that nothing
// holds. progress, which may be nil, is told the share done.
func Reach(ctx context.Context, st *Standing, f *Figures, step float64, tabs [][]hours.Tab, progress func(float64)) (*Reached, error) {
	if !f.Withheld.None() {
		return nil, unit.Error{Said: f.Withheld}
	}
	asked := step != 0
	if !asked {
		step = carve.StepFor(st.Placed.Box, len(f.Layers))
	}
	w := &reaching{st: st, f: f, setup: f.chosen.setup, step: step, tabs: tabs, tell: progress}
	if progress == nil {
		w.tell = func(float64) {}
	}
	for _, do := range []func(context.Context) error{w.columns, w.cut, w.ground, w.check, w.simulate} {
		if err := do(ctx); err != nil {
			return nil, err
		}
	}
	w.tell(1)
	r := w.reached()
	if !asked {
		r.Cautions = append(r.Cautions, coarseCautions(step)...)
	}
	return r, ctx.Err()
}

// A reaching is the work of Reach under way.
type reaching struct {
	st          *Standing
	f           *Figures
	setup       hours.Setup
	step        float64
	tabs        [][]hours.Tab // by layer, or none at all
	tell        func(float64)
	layers      []carve.LayerColumns
	rough, fine []carve.LayerCut
	grounds     []*hours.Ground // two a layer, nil for a layer without wood
	found       []carve.Finding
	times       []hours.SideTime
}

// Slabs are the layers' heights.
func (f *Figures) Slabs() []stack.Slab {
	slabs := make([]stack.Slab, len(f.Layers))
	for i, l := range f.Layers {
		slabs[i] = l.Slab
	}
	return slabs
}

// Hollow is the hollow of the figures as columns want it; nil where there is none, or where it isn't known yet.
func (f *Figures) Hollow(st *Standing) carve.Hollow {
	var pockets carve.Pockets
	carved := carve.Carved{Grid: st.Grid, Placement: st.Placed.Placement, Wall: f.For.Wall}
	for i := range f.Layers {
		l := &f.Layers[i]
		if !f.Hollowed(st, l) {
			continue
		}
		if len(l.Pocket) > 0 {
			slab := l.Slab
			slab.Bottom, slab.Top = l.PocketBottom, l.PocketTop
			pockets = append(pockets, carve.Pocket{Slab: slab, Region: l.Pocket})
		}
		if carved.Top == 0 {
			carved.Bottom = l.Bottom
		}
		carved.Top = l.Top
	}
	switch {
	case f.For.Core == Straight && len(pockets) > 0:
		return pockets
	case f.For.Core == Carved && carved.Top > 0:
		return carved
	}
	return nil
}

func (w *reaching) columns(ctx context.Context) (err error) {
	w.layers, err = carve.Reach(ctx, w.st.Placed.Mesh, w.f.Slabs(), carve.Options{
		Step: w.step, Thickness: w.f.Thickness, Hollow: w.f.Hollow(w.st),
		Progress: func(done float64) { w.tell(0.2 * done) },
	})
	return err
}

// cut works both cutters over both sides. Neither goes past the panel's far face: the other side is carved from there.
func (w *reaching) cut(ctx context.Context) (err error) {
	w.rough, err = carve.Cuts(ctx, w.layers, w.roughWork(), func(done float64) { w.tell(0.2 + 0.15*done) })
	if err != nil {
		return err
	}
	w.fine, err = carve.Cuts(ctx, w.layers, w.fineWork(), func(done float64) { w.tell(0.35 + 0.2*done) })
	return err
}

func (w *reaching) roughWork() carve.Work {
	return carve.Work{Cutter: w.setup.Rough, Leave: w.setup.Leave, Rough: true}
}

func (w *reaching) fineWork() carve.Work { return carve.Work{Cutter: w.setup.Finish} }

// ground lays out every side as the router finds it.
func (w *reaching) ground(ctx context.Context) error {
	w.grounds = make([]*hours.Ground, 2*len(w.layers))
	err := par.Spans(ctx, len(w.grounds), 1, func(k, _ int) {
		i, side := k/2, carve.Side(k%2)
		l := &w.f.Layers[i]
		seat := hours.Seat{Skim: l.Skim, Turned: l.Turned, Pocket: l.Pocket}
		if i < len(w.tabs) {
			seat.Tabs = w.tabs[i]
		}
		if g, ok := hours.NewGround(&w.layers[i], side, &w.rough[i].Sides[side], &w.fine[i].Sides[side], seat, w.setup); ok {
			w.grounds[k] = g
		}
	})
	for i := range w.layers {
		hours.Facing(w.grounds[2*i], w.grounds[2*i+1])
	}
	return err
}

func (w *reaching) simulate(ctx context.Context) (err error) {
	w.tell(0.75)
	w.times, err = hours.SimulateAll(ctx, w.grounds, w.setup)
	return err
}

func (w *reaching) reached() *Reached {
	r := &Reached{For: w.f.For, setup: w.setup, Step: w.step, Findings: w.found, HandsOnMin: w.f.Totals.HandsOnMin,
		EstimatedRoughMin: w.f.Totals.RoughMin, EstimatedFineMin: w.f.Totals.FineMin}
	stays, seen, limit := 0.0, 0, w.f.For.LimitsInUse().Trapped
	for i := range w.layers {
		l := &w.layers[i]
		r.Trapped += l.Outside.Volume
		r.TrappedCore += w.f.Layers[i].Shut
		maps := LayerMaps{Trapped: l.Outside.Map.Without(limit), TrappedCore: l.Core.Map.Without(limit), Top: l.Top, Bottom: l.Bottom}
		for side := carve.Up; side <= carve.Down; side++ {
			residue := &w.fine[i].Sides[side].Residue
			maps.Residue[side] = residue.Map
			r.ResidueMax = max(r.ResidueMax, residue.Max)
			stays += residue.Volume
			seen += wooded(&l.Top)
			one := w.side(i, side)
			r.RoughMin += one.Time.RoughMin
			r.FineMin += one.Time.FinishMin
			r.Sides = append(r.Sides, one)
		}
		r.Maps = append(r.Maps, maps)
	}
	if seen > 0 {
		r.ResidueMean = stays / (float64(seen) * w.step * w.step)
	}
	r.Tie = hours.Tie(r.estimated(), r.simulated())
	r.size = w.f.Size
	r.Cautions = reachCautions(w.found, w.f.Size)
	return r
}

// Tell is a finding as it is told.
func (r *Reached) Tell(f carve.Finding) finding.Finding { return f.Tell(r.size) }

// wooded counts the columns with wood.
func wooded(m *carve.HeightMap) int {
	n := 0
	for _, z := range m.Z {
		if z != carve.NoWood {
			n++
		}
	}
	return n
}

func (w *reaching) side(i int, side carve.Side) SideReached {
	k := 2*i + int(side)
	one := SideReached{Layer: w.f.Layers[i].Number, Side: side, Time: w.times[k]}
	if g := w.grounds[k]; g != nil {
		one.Depth, one.Levels = g.Depth(), len(g.Levels(w.setup))
	}
	for _, found := range w.found {
		if found.Layer == one.Layer && (found.Side == side || found.Side == carve.Both && side == carve.Up) {
			one.Findings = append(one.Findings, found)
		}
	}
	return one
}
