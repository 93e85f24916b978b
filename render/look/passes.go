package look

import (
	"context"
	"sync/atomic"

	"grainstack/slicing/par"
)

// maxLanes bounds the memory for depth buffers on machines with many cores.
const maxLanes = 4

// Raster goes over the triangles and keeps for each pixel what it sees. The body and the view's fields must not be changed
// afterwards. It returns ctx's error when called off; the renderer then has to Raster again before it can Shade.
func (r *Renderer) Raster(ctx context.Context, b *Body, v View) error {
	return r.raster(ctx, b, v, Strip{})
}

func (r *Renderer) raster(ctx context.Context, b *Body, v View, strip Strip) error {
	r.body, r.view = nil, v
	r.lens = newLens(b, &v, strip)
	r.back = v.Placement.Turn.Inverse()
	r.footing = v.foot(b, &r.lens)
	r.slabs = cutSlabs(r.slabs[:0], &v, &r.lens)
	r.ladder.build(r.slabs, v.Height)
	if err := r.transform(ctx, b); err != nil {
		return err
	}
	r.makeRoom()
	if err := r.visit(ctx, b); err != nil {
		return err
	}
	if err := r.fillFaces(ctx); err != nil {
		return err
	}
	if err := r.resolve(ctx, b, 0); err != nil {
		return err
	}
	if err := r.lookThrough(ctx, b); err != nil {
		return err
	}
	r.shadow.fresh = false
	r.body, r.shifted = b, strip != Strip{}
	return nil
}

// makeRoom sizes the buffers for the picture.
func (r *Renderer) makeRoom() {
	n := r.lens.w * r.lens.h
	lanes := min(par.Count(), maxLanes)
	for len(r.lanes) < lanes {
		r.lanes = append(r.lanes, lane{})
	}
	for i := range r.lanes {
		r.lanes[i].keys = sized(r.lanes[i].keys, n)
		r.lanes[i].empty(len(r.slabs))
	}
	r.samples = sized(r.samples, n)
}

// visit draws all triangles, each lane into its own buffer; which lane takes which chunk does not show, since the nearest
// facet is the nearest in any order.
func (r *Renderer) visit(ctx context.Context, b *Body) error {
	const chunk = 1 << 13
	var next atomic.Int64
	return par.Spans(ctx, len(r.lanes), 1, func(from, _ int) {
		lane := &r.lanes[from]
		r.window.clear(lane.keys, r.lens.w)
		for ctx.Err() == nil {
			i := int(next.Add(chunk)) - chunk
			if i >= len(b.triangles) {
				return
			}
			r.draw(lane, b, i, min(i+chunk, len(b.triangles)))
		}
	})
}
