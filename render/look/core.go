package look

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

func (r *Renderer) hollowed() bool {
	c := &r.view.Core
	return c.Depth != nil && c.Top > c.Bottom
}

// room is how far the stand's point p is from wood, in mm, negative in wood.
func (r *Renderer) room(p geom.Vec) float64 {
	c := &r.view.Core
	place := &r.view.Placement
	q := r.back.Apply(p.Sub(place.Shift)).Scale(1 / place.Scale)
	return min(c.Depth.Depth(q)*place.Scale-c.Wall, p.Z-c.Bottom, c.Top-p.Z)
}

// marchSteps bounds the work for one ray, care is how much of the promised room a step uses: fields that are interpolated
// promise a little too much.
const (
	marchSteps = 160
	care       = 0.85
)

// enter follows a ray that has come through a slab's face: if it meets wood at once, the face is what shows; if it meets
// the core's wall, that; and if it leaves the slab again, the pixel is marked to be looked at further on.
func (v *resolver) enter(i, number int) {
	s, r := &v.r.samples[i], v.r
	from := geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}
	room := r.room(from)
	if room <= 0 {
		return
	}
	far := (r.slabs[number].leave() - from.Z) / r.lens.ahead.Z
	if math.IsInf(far, 0) {
		far = 2 * r.lens.reach
	}
	t, met := r.march(from, room, far)
	if !met {
		s.kind = paper
		r.through[i] = uint16(number + 1)
		return
	}
	p := from.Add(r.lens.ahead.Scale(t))
	n := r.wallNormal(p)
	s.kind = hollow
	s.place(p, n)
	s.foot = v.foot(n)
	s.open = uint8(40 + 190/(1+t/(2*room+4)))
}

// march goes from a point in the hollow along the view until it meets wood or has gone far mm.
func (r *Renderer) march(from geom.Vec, room, far float64) (t float64, met bool) {
	least := 0.2 / r.lens.scale
	before := 0.0
	for range marchSteps {
		before = t
		t += max(room*care, least)
		if t >= far {
			return far, false
		}
		room = r.room(from.Add(r.lens.ahead.Scale(t)))
		if room <= 0 {
			break
		}
	}
	for range 6 {
		middle := (before + t) / 2
		if r.room(from.Add(r.lens.ahead.Scale(middle))) > 0 {
			before = middle
		} else {
			t = middle
		}
	}
	return t, true
}

// wallNormal points from the wood into the hollow.
func (r *Renderer) wallNormal(p geom.Vec) vec {
	const e = 0.4 // mm, of the order of the field's step
	d := func(v geom.Vec) float64 { return r.room(p.Add(v)) - r.room(p.Sub(v)) }
	n := geom.Vec{X: d(geom.Vec{X: e}), Y: d(geom.Vec{Y: e}), Z: d(geom.Vec{Z: e})}.Unit()
	if n == (geom.Vec{}) {
		n.Z = 1
	}
	return short(n)
}

// looksThrough reports whether a ray can pass through one layer's hollow to the next.
func (r *Renderer) looksThrough() bool { return r.hollowed() && len(r.slabs) > 1 }

// lookThrough draws what is seen through the holes of lifted layers: slab after slab, only where rays came through all
// before it.
func (r *Renderer) lookThrough(ctx context.Context, b *Body) error {
	if !r.looksThrough() {
		return nil
	}
	rows := make([][]turnAt, r.window.y1-r.window.y0)
	for k := 1; k < len(r.slabs); k++ {
		if !r.unlock(k) {
			continue
		}
		err := par.Spans(ctx, len(r.lanes), 1, func(i, _ int) {
			f := filler{keys: r.lanes[i].keys, width: r.lens.w, win: r.window}
			for _, id := range r.lanes[i].reach[k] {
				r.drawIn(&f, b, int(id), k)
			}
		})
		if err != nil {
			return err
		}
		if r.slabs[k].cut {
			r.fillFace(r.lanes[0].keys, k, rows)
		}
		if err := r.resolve(ctx, b, k); err != nil {
			return err
		}
	}
	return nil
}

// unlock opens the depth buffers where rays came through k slabs and shuts them elsewhere: no key is below 0. It reports
// whether there are any.
func (r *Renderer) unlock(k int) bool {
	any := false
	for y := r.window.y0; y < r.window.y1; y++ {
		for i := y*r.lens.w + r.window.x0; i < y*r.lens.w+r.window.x1; i++ {
			key := uint64(0)
			if int(r.through[i]) == k {
				key, any = nothing, true
			}
			for lane := range r.lanes {
				r.lanes[lane].keys[i] = key
			}
		}
	}
	return any
}
