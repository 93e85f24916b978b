package stack

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// What is a sliver. A veneer is some 1.5 mm thick, and narrower wood breaks off under the cutter; what is smaller than a pea's
// quarter is lost in the dust (common practice, no source).
const (
	// SliverVolume is the volume below which a piece of a layer is a sliver, mm³.
	SliverVolume = 20.0
	// SliverWidth is how wide a piece has to be somewhere, at some height, not to be a sliver, mm.
	SliverWidth = 2.0
	// largestSliver is the volume from which on a piece is none however narrow it is, mm³: thin walls are told, not left out.
	largestSliver = 1000.0
)

// sliverPlanes is how many sections between a layer's two faces are looked at for a piece's width.
const sliverPlanes = 7

// narrow tells for each piece whether it is a sliver by volume or width.
func (c *cutter) narrow(ctx context.Context, pieces []piece, ids []int32) ([]bool, error) {
	out := make([]bool, len(pieces))
	asked := make([]bool, len(c.slabs))
	doubtful := make([]bool, len(pieces))
	for i := range pieces {
		p := &pieces[i]
		switch {
		case p.Volume < SliverVolume:
			out[i] = true
		case p.Volume < largestSliver && p.round == i:
			doubtful[i], out[i], asked[p.slab] = true, true, true
		}
	}
	var heights []float64
	var slabs []int32
	for i, ask := range asked {
		if !ask {
			continue
		}
		low, high := c.heights[2*i], c.heights[2*i+1]
		for k := range sliverPlanes + 2 {
			heights = append(heights, low+(high-low)*float64(k)/(sliverPlanes+1))
			slabs = append(slabs, int32(i))
		}
	}
	if len(heights) == 0 {
		return out, ctx.Err()
	}
	wide := make([][]int32, len(heights))
	err := c.slicer.sweep(ctx, heights, func(k int, w *walker) { wide[k] = c.wide(w, slabs[k], doubtful, ids) })
	for _, i := range slices.Concat(wide...) {
		out[i] = false
	}
	for i := range pieces { // between two sections there may be room for what is flat
		if size := pieces[i].Box.Size(); doubtful[i] && size.Z < c.slabs[pieces[i].slab].Thickness()/sliverPlanes {
			out[i] = min(size.X, size.Y) < SliverWidth
		}
	}
	return out, err
}

// wide are the doubtful pieces that a section shows to be wide enough.
func (c *cutter) wide(w *walker, slab int32, doubtful []bool, ids []int32) (out []int32) {
	regions := make(map[int32]geom.Region)
	for _, l := range w.rings {
		if id := ids[c.fragment(l.triangle, slab)]; doubtful[id] {
			if r := tidy(geom.Ring(w.points[l.from:l.to:l.to])); len(r) > 2 {
				regions[id] = append(regions[id], r)
			}
		}
	}
	for id, g := range regions {
		if plane.Holds(g, SliverWidth/2) {
			out = append(out, id)
		}
	}
	return out
}
