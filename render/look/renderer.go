package look

import (
	"errors"
	"math"

	"grainstack/render/frame"
	"grainstack/slicing/geom"
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

// NewRenderer is a renderer without memory yet.
func NewRenderer() *Renderer { return &Renderer{} }

var errNothing = errors.New("look: nothing has been drawn yet")

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
