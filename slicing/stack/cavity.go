package stack

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// hollow takes the volume of each cavity that lies wholly within a slab from the part round it, which a section through the
// cavity just below its highest vertex finds: there the cavity shows as a hole in the part's outline.
func (c *cutter) hollow(ctx context.Context, pieces []piece, ids []int32) error {
	var cavities []int
	for i := range pieces {
		if p := &pieces[i]; !p.cut && p.Volume < 0 && p.highest >= 0 {
			cavities = append(cavities, i)
		}
	}
	if len(cavities) == 0 {
		return ctx.Err()
	}
	height := func(i int) float64 {
		p := &pieces[i]
		return float64(c.slicer.mesh.Points[p.highest][2]) - min(c.slicer.tolerance, p.Box.Size().Z/2)
	}
	slices.SortStableFunc(cavities, func(i, j int) int { return compare(height(i), height(j)) })
	heights := make([]float64, len(cavities))
	for k, i := range cavities {
		heights[k] = height(i)
	}
	round := make([]int, len(cavities))
	err := c.slicer.sweep(ctx, heights, func(k int, w *walker) {
		round[k] = c.round(cavities[k], pieces[cavities[k]].slab, ids, w)
	})
	if err != nil {
		return err
	}
	for k, i := range cavities {
		if round[k] >= 0 {
			pieces[round[k]].Volume += pieces[i].Volume
			pieces[i].round = round[k]
		}
	}
	return nil
}

// round is the piece whose outline in a section lies round a cavity, -1 for none.
func (c *cutter) round(cavity int, slab int32, ids []int32, w *walker) int {
	var g geom.Region
	var whose []int
	for _, l := range w.rings {
		if r := tidy(geom.Ring(w.points[l.from:l.to:l.to])); len(r) > 2 {
			g = append(g, r)
			whose = append(whose, int(ids[c.fragment(l.triangle, slab)]))
		}
	}
	for i, o := range plane.Nest(g) {
		if whose[i] == cavity && o >= 0 {
			return whose[o]
		}
	}
	return -1
}
