package look

import (
	"context"

	"grainstack/render/frame"
	"grainstack/render/tone"
	"grainstack/slicing/par"
)

// fineShifts are the places within a pixel at which a settled picture looks: a turned square, so that edges near upright and
// near level both get four steps.
var fineShifts = [4][2]float64{{-0.125, -0.375}, {0.375, -0.125}, {0.125, 0.375}, {-0.375, 0.125}}

// Fine draws the settled picture: four looks a pixel, mixed as light, so that edges are clean. It takes four times as long
// as Raster and Shade. A Shade after it goes over the triangles once more.
func (r *Renderer) Fine(ctx context.Context, b *Body, v View, d Dress) (*frame.Frame, error) {
	marks := d.Marks
	d.Marks = nil
	var out *frame.Frame
	for k, shift := range fineShifts {
		out.Release()
		if err := r.raster(ctx, b, v, Strip{DX: shift[0], DY: shift[1]}); err != nil {
			return nil, err
		}
		f, err := r.shade(ctx, &d, true)
		if err != nil {
			return nil, err
		}
		out = f
		if err := r.add(ctx, f.Image.Pix, k == 0, k == len(fineShifts)-1); err != nil {
			out.Release()
			return nil, err
		}
	}
	d.Marks = marks
	r.ring(out.Image, &d)
	return out, nil
}

// add takes one look's light to the sum; the last look is overwritten with the mean of all.
func (r *Renderer) add(ctx context.Context, pix []uint8, first, last bool) error {
	r.sum = sized(r.sum, len(pix))
	return par.Spans(ctx, len(pix), 1<<16, func(from, to int) {
		sum := r.sum[from:to]
		for i, c := range pix[from:to] {
			l := tone.FromByte(c)
			if !first {
				l += sum[i]
			}
			if last {
				pix[from+i] = tone.Byte(l * (1.0 / float32(len(fineShifts))))
			} else {
				sum[i] = l
			}
		}
	})
}
