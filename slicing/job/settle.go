package job

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Settle is Instant and what takes a walk over facets and field: the parts of each layer, the hollow that no cutter gets
// into, the narrowest ring of wood at each joint, and the joints that go through what shall stay whole. It looks at ctx on its way.
func Settle(ctx context.Context, st *Standing, s Settings, c *stock.Catalogue) (*Figures, error) {
	f, err := figure(ctx, st, s, c)
	if err != nil || !f.Withheld.None() {
		return f, err
	}
	if err := f.findParts(ctx, st); err != nil {
		return nil, err
	}
	if l, ok := f.noPart(); !ok {
		return f.withhold(unit.Say("Layer %d, %s high, holds no wood that can be made: move the first joint or change the height.", l.Number, unit.Mm(l.Thickness()))), nil
	}
	if err := f.findShut(ctx, st); err != nil {
		return nil, err
	}
	if err := f.findRims(ctx, st); err != nil {
		return nil, err
	}
	if err := f.findKept(ctx, st); err != nil {
		return nil, err
	}
	f.fillMinutes(st)
	f.Settled = true
	f.conclude()
	return f, nil
}

// findParts divides the piece as it is carved, and leaves slivers out of the wood and of what is glued.
func (f *Figures) findParts(ctx context.Context, st *Standing) (err error) {
	if f.made, err = st.grown(ctx, f.For.Shop.Allowance); err != nil {
		return err
	}
	if f.division, err = stack.Divide(ctx, f.made.Slicer, f.Slabs()); err != nil {
		return fmt.Errorf("the parts of the layers can't be told apart: %w", err)
	}
	for i := range f.Layers {
		l := &f.Layers[i]
		l.Parts, l.Slivers = f.division.Parts[i], f.division.Slivers[i]
		for _, p := range l.Slivers {
			l.Wood = math.Max(0, l.Wood-p.Volume)
		}
		if i > 0 {
			l.Joint = math.Max(0, l.Joint-sliverFaces(f.Layers[i-1].Slivers, l.Slivers))
		}
		all := geom.EmptyBox2()
		for _, p := range l.Parts {
			all = all.Add(geom.Vec2{X: p.Box.Min.X, Y: p.Box.Min.Y}).Add(geom.Vec2{X: p.Box.Max.X, Y: p.Box.Max.Y})
		}
		if len(l.Parts) > 0 {
			l.Size = all.Size()
		}
	}
	return nil
}

// sliverFaces is what slivers below and above a joint take of it, mm²: where one goes on as the other its face counts once.
func sliverFaces(below, above []stack.Part) (sum float64) {
	for _, p := range below {
		sum += p.Above
	}
	for _, q := range above {
		own := q.Below
		for _, p := range below {
			if a, b := p.Box, q.Box; a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y {
				own -= p.Above
			}
		}
		sum += math.Max(0, own)
	}
	return sum
}

// noPart is the first layer that has nothing to be made, ok where there is none.
func (f *Figures) noPart() (l *Layer, ok bool) {
	for i := range f.Layers {
		if l := &f.Layers[i]; len(l.Parts) == 0 {
			return l, false
		}
	}
	return nil, true
}

// findShut measures the hollow as it is cut away, the very one that the layers' solids have. What no cutter gets into stays wood:
// what lies under an overhang of its layer, or closes off inside it. Upright pockets are open by their nature.
func (f *Figures) findShut(ctx context.Context, st *Standing) error {
	if f.For.Wall == 0 || st.Grid == nil || f.For.Core == Straight {
		return nil
	}
	hollow, err := field.NewLattice(ctx, st.Grid, st.Placed.Placement, st.Placed.Box, f.For.Wall)
	if err != nil {
		return err
	}
	blocks := make([]field.Block, par.Count())
	return par.Workers(ctx, len(f.Layers), 1, func(worker, i, _ int) {
		l := &f.Layers[i]
		if !f.Hollowed(st, l) {
			return
		}
		before := l.Core
		l.Core, l.coreMoment = 0, geom.Vec{}
		if b := &blocks[worker]; b.Cut(hollow, l.Bottom, l.Top) {
			var open float64
			var moment geom.Vec
			open, moment, l.Shut = b.Measure()
			l.setCore(open, moment, st.Profile.Volume(l.Bottom, l.Top))
		}
		l.Wood = math.Max(0, l.Wood+before-l.Core)
	})
}

// findRims measures the narrowest ring of wood between hollow and outside at the joints. A layer's rim is the lesser of
// those at its two faces.
func (f *Figures) findRims(ctx context.Context, st *Standing) error {
	var planes []float64
	var above []int
	for i := 1; i < len(f.Layers); i++ {
		if f.Hollowed(st, &f.Layers[i]) || f.Hollowed(st, &f.Layers[i-1]) {
			planes, above = append(planes, f.Layers[i].Bottom), append(above, i)
		}
	}
	sections, err := st.Slicer.SectionsBelow(ctx, planes)
	if err != nil {
		return err
	}
	for k, section := range sections {
		if err := ctx.Err(); err != nil {
			return err
		}
		upper, lower := &f.Layers[above[k]], &f.Layers[above[k]-1]
		for _, l := range []*Layer{lower, upper} {
			if f.Hollowed(st, l) {
				l.narrow(f.CoreAt(st, l, section.Z), section.Region, section.Z)
			}
		}
	}
	return nil
}

// CoreAt is the outline of a layer's hollow at a height.
func (f *Figures) CoreAt(st *Standing, l *Layer, z float64) geom.Region {
	if !f.Hollowed(st, l) {
		return nil
	}
	if f.For.Core == Straight {
		return l.Pocket
	}
	return st.Grid.CoreSection(st.Placed.Placement, z, f.For.Wall, pocketRaster)
}

// narrow keeps the lesser of the rim that was known and the one between a core and an outline.
func (l *Layer) narrow(core, outline geom.Region, z float64) {
	rim, ok := field.NarrowestRim(core, outline)
	if ok && (l.Rim == 0 || rim.Width < l.Rim) {
		l.Rim, l.RimAt, l.RimZ = rim.Width, rim.Core, z
	}
}

// LeastRim is the narrowest ring of wood at a joint with these settings, mm; ok is false where there is none. It measures the
// rims alone.
func LeastRim(ctx context.Context, st *Standing, s Settings, c *stock.Catalogue) (least float64, ok bool, err error) {
	f, err := figure(ctx, st, s, c)
	if err != nil || !f.Withheld.None() {
		return 0, false, err
	}
	if err := f.findRims(ctx, st); err != nil {
		return 0, false, err
	}
	for _, l := range f.Layers {
		if l.Rim > 0 && (!ok || l.Rim < least) {
			least, ok = l.Rim, true
		}
	}
	return least, ok, nil
}
