package stack

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
)

// A Plane is a height within a slab, counted from 0. At or below the slab's bottom stands for just above its lower joint, at or
// above its top for just below the upper one.
type Plane struct {
	Slab int
	Z    float64
}

// Sections cuts at planes in any order, and gives for each the outline of every one of the slab's Parts, in their order.
func (d *Division) Sections(ctx context.Context, planes []Plane) ([][]geom.Region, error) {
	c := d.cutter
	order := make([]int, len(planes))
	heights := make([]float64, len(planes))
	at := func(p Plane) float64 { return min(max(p.Z, c.heights[2*p.Slab]), c.heights[2*p.Slab+1]) }
	for i := range planes {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return compare(at(planes[i]), at(planes[j])) })
	for k, i := range order {
		heights[k] = at(planes[i])
	}
	out := make([][]geom.Region, len(planes))
	err := c.slicer.sweep(ctx, heights, func(k int, w *walker) {
		i := order[k]
		slab := planes[i].Slab
		out[i] = make([]geom.Region, len(d.Parts[slab]))
		for _, l := range w.rings {
			if part := d.Of(int(l.triangle), slab); part >= 0 {
				if r := w.ring(l, c.slicer.tolerance); r != nil {
					out[i][part] = append(out[i][part], r)
				}
			}
		}
	})
	return out, err
}
