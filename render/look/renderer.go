package look

import (
	"context"
	"errors"
	"math"
	"sync/atomic"

	"grainstack/render/frame"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// A Renderer draws pictures and keeps the memory that they need from one to the next: some 50 bytes a pixel and 16 a point.
// It is used by one goroutine at a time; the frames it gives may be read by any.
type Renderer struct {
	pool    frame.Pool
	body    *Body
	view    View
	lens    lens
	footing footing
	back    geom.Turn // from the stand to the body's frame
	shifted bool      // the samples are off by part of a pixel
	slabs   []slab
	ladder  ladder
	corners []corner // per point
	lanes   []lane
	window  window // pixels that the piece can cover
	samples []sample
	through []uint16 // per pixel: slabs that the ray has passed through a hollow
	shadow  shadow
	table   stripes
	grains  *grains
	sum     []float32
}

// maxLanes bounds the memory for depth buffers on machines with many cores.
const maxLanes = 4

// NewRenderer is a renderer without memory yet.
func NewRenderer() *Renderer { return &Renderer{} }

var errNothing = errors.New("look: nothing has been drawn yet")

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

func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
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

// A Hit is what a pixel shows.
type Hit struct {
	Facet int      // number of the body's triangle; meaningless for a face
	Point geom.Vec // mm in the stand's frame, not lifted
	Face  bool     // a cut or lifted face, or the hollow seen through it, not the piece's own surface
}

// Pick is what the pixel shows; ok is false for the paper.
func (r *Renderer) Pick(x, y int) (h Hit, ok bool) {
	if r.body == nil || !r.window.has(x, y) {
		return Hit{}, false
	}
	s := &r.samples[y*r.lens.w+x]
	if s.kind == paper {
		return Hit{}, false
	}
	point := geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}
	return Hit{int(s.facet), point, s.kind != surface}, true
}

// Pixel is where a point of the stand (not lifted) is seen in the last picture, and whether nothing of the piece hides it.
func (r *Renderer) Pixel(p geom.Vec) (x, y float64, clear bool) {
	x, y = r.lens.pixel(r.raised(p))
	hit, ok := r.Pick(int(math.Floor(x)), int(math.Floor(y)))
	return x, y, !ok || r.lens.ahead.Dot(r.raised(hit.Point).Sub(r.raised(p))) > -3/r.lens.scale
}

// raised is the point after the layers have been lifted.
func (r *Renderer) raised(p geom.Vec) geom.Vec {
	for i := range r.slabs {
		if s := &r.slabs[i]; p.Z >= s.low && p.Z <= s.high {
			p.Z += s.shift
			break
		}
	}
	return p
}
