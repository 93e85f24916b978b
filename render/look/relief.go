package look

import (
	"context"
	"image"
	"math"

	"grainstack/render/frame"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// A Field is wood on the nodes of a lattice from 0, 0, x fastest, in counts of height above a bed. There is none where it ends no
// higher than it begins.
type Field struct {
	W, H         int
	StepX, StepY float64 // mm between nodes
	Count        float64 // mm
	Top, Floor   []int16
}

// An Above is a look straight down on a field.
type Above struct {
	Size  image.Point // pixels
	Low   geom.Vec2   // mm: the place in the picture's lower left corner
	PerMM float64     // pixels a millimetre
	Thick float64     // mm: how high the wood was before it was carved
	Fine  bool        // takes more care with the grain
}

// Relief draws a field as carved wood from straight above, in the light of the other pictures. The dress's wood lies as it does on
// the bed, from Bottom 0 up; through what is carved away wholly its paper is seen. Nothing can be picked on the picture.
func (r *Renderer) Relief(ctx context.Context, f *Field, v Above, d Dress) (*frame.Frame, error) {
	w, h := min(max(v.Size.X, 1), maxSide), min(max(v.Size.Y, 1), maxSide)
	k := max(v.PerMM, 1e-6)
	r.lens = lens{
		right: geom.Vec{X: 1}, up: geom.Vec{Y: 1}, ahead: geom.Vec{Z: -1}, scale: k, w: w, h: h, whole: h, cy: float64(h),
		target: geom.Vec{X: v.Low.X, Y: v.Low.Y}, reach: v.Thick,
	}
	r.view = View{Height: v.Thick, Size: image.Pt(w, h)}
	r.body, r.footing, r.slabs = nil, footing{}, r.slabs[:0]
	r.window = window{0, 0, w, h}
	r.shadow.on, r.shadow.fresh, r.shadow.light = false, true, d.Light
	r.samples = sized(r.samples, w*h)
	if err := r.relieve(ctx, f); err != nil {
		return nil, err
	}
	out, err := r.shade(ctx, &d, v.Fine)
	r.shadow.fresh = false
	return out, err
}

// relieve makes the samples of a field: heights first, then how open each is to the sky, and its normal.
func (r *Renderer) relieve(ctx context.Context, f *Field) error {
	l := &r.lens
	rows := func(do func(y int)) error {
		return par.Spans(ctx, l.h, 8, func(from, to int) {
			for y := from; y < to; y++ {
				do(y)
			}
		})
	}
	if err := rows(func(y int) { r.heights(f, y) }); err != nil {
		return err
	}
	wide := int(max(1, min(openWide*l.scale, 200)))
	along := sized(r.sum, 2*l.w*l.h)
	r.sum = along
	along, mean := along[:l.w*l.h], along[l.w*l.h:]
	if err := rows(func(y int) { r.meanAlong(along[y*l.w:(y+1)*l.w], y, wide) }); err != nil {
		return err
	}
	if err := par.Spans(ctx, l.w, 32, func(from, to int) { meanAcross(mean, along, l.w, l.h, from, to, wide) }); err != nil {
		return err
	}
	return rows(func(y int) { r.faces(f, mean, y) })
}

const (
	// openWide is how far round a place wood stands in its light, mm.
	openWide = 5
	// openDeep is how far below the mean of that wood a place lies that gets half of the sky's light, mm.
	openDeep = 7
)

// heights are those of one row of pixels.
func (r *Renderer) heights(f *Field, y int) {
	l := &r.lens
	row := r.samples[y*l.w : (y+1)*l.w]
	for x := range row {
		p := l.point(float64(x)+0.5, float64(y)+0.5, 0)
		s := &row[x]
		s.x, s.y, s.facet = float32(p.X), float32(p.Y), 0
		if s.h, s.kind = 0, paper; p.X >= 0 && p.Y >= 0 && p.X <= float64(f.W-1)*f.StepX && p.Y <= float64(f.H-1)*f.StepY {
			s.h, s.kind = f.at(p.X/f.StepX, p.Y/f.StepY)
		}
	}
}

// at is how high wood stands between nodes, and whether there is any at the nearest.
func (f *Field) at(x, y float64) (float32, kind) {
	i, j := min(int(x), f.W-2), min(int(y), f.H-2)
	fx, fy := float32(x-float64(i)), float32(y-float64(j))
	n := j*f.W + i
	a, b, c, e := f.node(n), f.node(n+1), f.node(n+f.W), f.node(n+f.W+1)
	low, high := a+fx*(b-a), c+fx*(e-c)
	near := n
	if fx > 0.5 {
		near++
	}
	if fy > 0.5 {
		near += f.W
	}
	is := surface
	if f.Top[near] <= f.Floor[near] {
		is = paper
	}
	return low + fy*(high-low), is
}

// node is the height of a node.
func (f *Field) node(n int) float32 {
	if f.Top[n] <= f.Floor[n] {
		return 0
	}
	return float32(f.Top[n]) * float32(f.Count)
}

// meanAlong is the running mean of a row's heights over so many to either side; beyond the row its end goes on.
func (r *Renderer) meanAlong(out []float32, y, wide int) {
	row := r.samples[y*r.lens.w : (y+1)*r.lens.w]
	last := len(row) - 1
	sum := float32(0)
	for i := -wide; i <= wide; i++ {
		sum += row[max(0, min(last, i))].h
	}
	part := 1 / float32(2*wide+1)
	for x := range row {
		out[x] = sum * part
		sum += row[min(last, x+wide+1)].h - row[max(0, x-wide)].h
	}
}

// meanAcross is the same down columns from..to.
func meanAcross(out, in []float32, w, h, from, to, wide int) {
	sums := make([]float32, to-from)
	add := func(y int, by float32) {
		row := in[max(0, min(h-1, y))*w:]
		for x := range sums {
			sums[x] += by * row[from+x]
		}
	}
	for y := -wide; y <= wide; y++ {
		add(y, 1)
	}
	part := 1 / float32(2*wide+1)
	for y := range h {
		for x, sum := range sums {
			out[y*w+from+x] = sum * part
		}
		add(y+wide+1, 1)
		add(y-wide, -1)
	}
}

// faces are the normals of one row, how much height its pixels span, and how open they are.
func (r *Renderer) faces(f *Field, mean []float32, y int) {
	l := &r.lens
	k := float32(l.scale) / 2
	up, down := max(y-1, 0)*l.w, min(y+1, l.h-1)*l.w
	for x := range l.w {
		s := &r.samples[y*l.w+x]
		if s.kind == paper {
			continue
		}
		dx := k * (r.samples[y*l.w+min(x+1, l.w-1)].h - r.samples[y*l.w+max(x-1, 0)].h)
		dy := k * (r.samples[up+x].h - r.samples[down+x].h)
		steep := float32(math.Sqrt(float64(dx*dx + dy*dy)))
		long := float32(math.Sqrt(float64(1 + steep*steep)))
		s.n = [3]int16{int16(-dx / long * packed), int16(-dy / long * packed), int16(packed / long)}
		s.foot = steep / float32(l.scale)
		deep := max(0, mean[y*l.w+x]-s.h)
		s.open = uint8(255 * openDeep / (openDeep + deep))
	}
}
