package look

import (
	"context"

	"grainstack/render/frame"
	"grainstack/render/tone"
)

// fineShifts are the places within a pixel at which a settled picture looks: a turned square, so that edges near upright and
// near level both get four steps.
var fineShifts = [4][2]float64{{-0.125, -0.375}, {0.375, -0.125}, {0.125, 0.375}, {-0.375, 0.125}}

// Fine draws the settled picture: four looks a pixel, mixed as light, so that edges are clean. It takes four times as long
// as Raster and Shade. A Shade after it goes over the triangles once more.
func (r *Renderer) Fine(ctx context.Context, b *Body, v View, d Dress) (*frame.Frame, error) {
	r.sum = nil
	marks := d.Marks
	d.Marks = nil
	var out *frame.Frame
	for k, shift := range fineShifts {
		out.Release()
		if err := r.raster(ctx, b, v, shift[0], shift[1]); err != nil {
			return nil, err
		}
		f, err := r.shade(ctx, &d)
		if err != nil {
			return nil, err
		}
		out = f
		if k == 0 {
			r.sum = make([]float32, len(f.Image.Pix))
		}
		for i, c := range f.Image.Pix {
			r.sum[i] += tone.FromBytes(c, 0, 0)[0]
		}
	}
	for i, s := range r.sum {
		out.Image.Pix[i] = tone.Byte(s / 4)
	}
	d.Marks = marks
	r.ring(out.Image, &d)
	return out, nil
}
