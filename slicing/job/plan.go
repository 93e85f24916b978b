package job

import (
	"context"
	"fmt"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
)

// A LayerPlan is what the drawing of one layer shows, seen from above, mm on the stand. Of settled figures that is the layer as it is
// carved: with the wood for sanding, and without slivers.
type LayerPlan struct {
	Layer
	For    Settings
	Lower  geom.Region // just above the layer's lower face
	Upper  geom.Region // just below its upper face
	Widest geom.Region // at the height where it covers most
	WideAt float64     // that height, mm

	CoreLower, CoreUpper geom.Region // the hollow at the two faces
	CoreWidest           geom.Region // and where the layer is widest
	Beneath              geom.Region // the layer below, just under the joint; empty for the first
	Open                 int         // outlines that break off because the surface is open
}

// Plan cuts layer n, counted from 1, of figures that Instant or Settle gave for this standing. It takes some milliseconds.
func Plan(ctx context.Context, st *Standing, f *Figures, n int) (*LayerPlan, error) {
	if n < 1 || n > len(f.Layers) {
		return nil, fmt.Errorf("there is no layer %d in a stack of %d", n, len(f.Layers))
	}
	p := &LayerPlan{Layer: f.Layers[n-1], For: f.For}
	if f.division != nil && f.made.Piece == st.Piece && f.made.Stand == st.Stand {
		st = f.made
	}
	p.WideAt, _ = st.Profile.Widest(p.Bottom, p.Top)
	above, err := st.Slicer.SectionsAbove(ctx, []float64{p.Bottom, p.WideAt})
	if err != nil {
		return nil, err
	}
	below, err := st.Slicer.SectionsBelow(ctx, []float64{p.Top, p.Bottom, p.WideAt})
	if err != nil {
		return nil, err
	}
	p.Lower, p.Widest, p.Upper = above[0].Region, above[1].Region, below[0].Region
	p.Open = max(above[0].Open, above[1].Open, below[0].Open)
	if below[2].Region.Area() > p.Widest.Area() { // the widest is a flat face that looks up
		p.Widest = below[2].Region
	}
	if n > 1 {
		p.Beneath = below[1].Region
	}
	if err := p.leaveSlivers(ctx, st, f); err != nil {
		return nil, err
	}
	p.CoreLower, p.CoreUpper = f.CoreAt(st, &p.Layer, p.Bottom), f.CoreAt(st, &p.Layer, p.Top)
	p.CoreWidest = f.CoreAt(st, &p.Layer, p.WideAt)
	return p, nil
}

// leaveSlivers takes out of a settled layer's sections, and of the one beneath, what is dropped as slivers: the drawing shows what
// is made.
func (p *LayerPlan) leaveSlivers(ctx context.Context, st *Standing, f *Figures) error {
	if f.division == nil || !f.division.Divides(st.Placed.Mesh) {
		return nil
	}
	var planes []stack.Plane
	var to []*geom.Region
	i := p.Number - 1
	if len(f.Layers[i].Slivers) > 0 {
		planes = append(planes, stack.Plane{Slab: i, Z: p.Bottom}, stack.Plane{Slab: i, Z: p.WideAt}, stack.Plane{Slab: i, Z: p.Top})
		to = append(to, &p.Lower, &p.Widest, &p.Upper)
	}
	if i > 0 && len(f.Layers[i-1].Slivers) > 0 {
		planes, to = append(planes, stack.Plane{Slab: i - 1, Z: p.Bottom}), append(to, &p.Beneath)
	}
	if len(planes) == 0 {
		return nil
	}
	cuts, err := f.division.Sections(ctx, planes)
	for k, parts := range cuts {
		*to[k] = slices.Concat(parts...)
	}
	return err
}
