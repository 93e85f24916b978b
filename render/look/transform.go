package look

import (
	"context"
	"math"
	"sync"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// affine is one row of the way from the body's frame to the picture.
type affine [4]float32

// rows are x, y (sub-pixels), depth (steps) and height (mm) as functions of a point in the body's frame.
func (l *lens) rows(p geom.Placement) [4]affine {
	row := func(dir geom.Vec, factor, add float64) affine {
		d := p.Turn.Inverse().Apply(dir).Scale(p.Scale * factor)
		return affine{float32(d.X), float32(d.Y), float32(d.Z), float32(dir.Dot(p.Shift)*factor + add)}
	}
	k := l.scale * subPixel
	steps := depthMax / (2 * l.reach)
	return [4]affine{
		row(l.right, k, l.cx*subPixel-k*l.right.Dot(l.target)),
		row(l.up, -k, l.cy*subPixel+k*l.up.Dot(l.target)),
		row(l.ahead, steps, (l.reach-l.ahead.Dot(l.target))*steps),
		row(geom.Vec{Z: 1}, 1, 0),
	}
}

// transform carries all points to the picture and finds the window that they can cover.
func (r *Renderer) transform(ctx context.Context, b *Body) error {
	r.corners = sized(r.corners, len(b.points))
	m := r.lens.rows(r.view.Placement)
	box := extent{math.MaxInt32, math.MaxInt32, math.MinInt32, math.MinInt32}
	var mu sync.Mutex
	err := par.Spans(ctx, len(b.points), 1<<14, func(from, to int) {
		e := carry(r.corners[from:to], b, from, &m)
		mu.Lock()
		defer mu.Unlock()
		box = extent{min(box.x0, e.x0), min(box.y0, e.y0), max(box.x1, e.x1), max(box.y1, e.y1)}
	})
	r.window = r.cover(box)
	return err
}

type extent struct{ x0, y0, x1, y1 int32 }

func carry(out []corner, b *Body, from int, m *[4]affine) extent {
	e := extent{math.MaxInt32, math.MaxInt32, math.MinInt32, math.MinInt32}
	points := b.points[from : from+len(out)]
	for i := range out {
		p := &points[i]
		x, y, z := p[0], p[1], p[2]
		c := corner{
			int32(m[0][0]*x + m[0][1]*y + m[0][2]*z + m[0][3]),
			int32(m[1][0]*x + m[1][1]*y + m[1][2]*z + m[1][3]),
			m[2][0]*x + m[2][1]*y + m[2][2]*z + m[2][3],
			m[3][0]*x + m[3][1]*y + m[3][2]*z + m[3][3],
		}
		e.x0, e.x1 = min(e.x0, c.x), max(e.x1, c.x)
		e.y0, e.y1 = min(e.y0, c.y), max(e.y1, c.y)
		out[i] = c
	}
	return e
}

// cover is the window for an extent, with room for what is lifted.
func (r *Renderer) cover(e extent) window {
	if e.x1 < e.x0 {
		return window{}
	}
	up, down := int32(0), int32(0)
	for _, s := range r.slabs {
		up, down = max(up, s.drop), min(down, s.drop)
	}
	w := window{
		max(0, int(e.x0)>>subShift), max(0, (int(e.y0)-int(up))>>subShift),
		min(r.lens.w, int(e.x1)>>subShift+1), min(r.lens.h, (int(e.y1)-int(down))>>subShift+1),
	}
	if w.x1 <= w.x0 || w.y1 <= w.y0 {
		return window{}
	}
	return w
}
