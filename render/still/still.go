package still

import (
	"context"
	"fmt"
	"image"
	"math"

	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/par"
)

// A Scene is what is drawn. The view's cut and lift say nothing: a still shows the finished piece.
type Scene struct {
	Body  *look.Body
	View  look.View
	Dress look.Dress
}

// Largest is the largest picture that is drawn, in pixels a side.
const Largest = 4096

// A Care is how much work goes into a still.
type Care struct {
	Looks             int // a pixel, each with its own directions of light
	Key, Above, Below int // directions a look
	Side              int // cells a side of what each light sees
}

// Usual is the care of a finished still so large: its shadows show no steps, and no light sees finer than the picture shows.
func Usual(size image.Point) Care {
	return Care{Looks: 6, Key: 14, Above: 14, Below: 6, Side: max(256, min(1024, size.X, size.Y))}
}

// stripPixels bounds the memory for one strip of the picture: 100 bytes a pixel.
const stripPixels = 1 << 20

// Draw draws the scene. progress, which may be nil, is told the share that is done, rising to 1, from the goroutine that
// called. It returns ctx's error when called off, and an error for a size that is out of bounds.
func Draw(ctx context.Context, s Scene, care Care, progress func(done float64)) (*image.RGBA, error) {
	size := s.View.Size
	if err := checkSize(size); err != nil {
		return nil, err
	}
	s.View.Cut, s.View.Lift, s.View.Core = 0, 0, look.Core{}
	s.Dress.Marks, s.Dress.Picked, s.Dress.Stain, s.Dress.Chalk = nil, look.Band{}, nil, look.Chalk{}
	care = care.bounded()
	rows := max(16, stripPixels/size.X)
	strips := (size.Y + rows - 1) / rows
	w := newWork(&s, care, progress, strips)
	sum := make([]float32, 3*size.X*size.Y)
	for k := range care.Looks {
		if err := w.light(ctx, k); err != nil {
			return nil, err
		}
		dx, dy := offset(k, care.Looks)
		for y := 0; y < size.Y; y += rows {
			n := min(rows, size.Y-y)
			strip := look.Strip{Y: y, Rows: n, DX: dx, DY: dy}
			err := w.eye.Gathered(ctx, s.Body, s.View, s.Dress, strip, w.gather, sum[3*size.X*y:3*size.X*(y+n)])
			if err != nil {
				return nil, err
			}
			w.step(stripWeight)
		}
	}
	return develop(ctx, sum, size, care.Looks)
}

func checkSize(s image.Point) error {
	if s.X < 1 || s.Y < 1 || s.X > Largest || s.Y > Largest {
		return fmt.Errorf("a picture is from 1x1 to %dx%d pixels here, not %dx%d", Largest, Largest, s.X, s.Y)
	}
	return nil
}

func (c Care) bounded() Care {
	fit := func(n, most int) int { return max(1, min(n, most)) }
	return Care{fit(c.Looks, 64), fit(c.Key, 256), fit(c.Above, 256), fit(c.Below, 256), max(64, min(c.Side, 4096))}
}

// offset is where within a pixel the k-th of n looks falls: evenly in x, and in y by halves (van der Corput), so that edges of
// any slant get as many steps as there are looks.
func offset(k, n int) (dx, dy float64) {
	dx = (float64(k)+0.5)/float64(n) - 0.5
	f := 0.5
	for i := k; i > 0; i /= 2 {
		dy += f * float64(i%2)
		f /= 2
	}
	return dx, dy - 0.5 + 0.5/float64(n)
}

// develop makes the picture of the summed light, dithered, so that slow gradients show no steps.
func develop(ctx context.Context, sum []float32, size image.Point, looks int) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rectangle{Max: size})
	scale := 1 / float32(looks)
	err := par.Spans(ctx, size.Y, 32, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range size.X {
				// A step of the screen is about √light/90 wide in the middle tones.
				n := (bayer(x, y) - 0.5) * (1.0 / 140)
				i := y*size.X + x
				for c := range 3 {
					v := sum[3*i+c] * scale
					img.Pix[4*i+c] = tone.Byte(v + n*float32(math.Sqrt(float64(v))))
				}
				img.Pix[4*i+3] = 255
			}
		}
	})
	return img, err
}

// bayer is an ordered pattern of 8 by 8 with values from 0 to 1 (Bayer 1973), by the interleaved bits of x xor y and y.
func bayer(x, y int) float32 {
	v := 0
	for i := range 3 {
		b := (x>>i ^ y>>i) & 1
		v |= (b<<1 | y>>i&1) << (2 * (2 - i))
	}
	return (float32(v) + 0.5) / 64
}
