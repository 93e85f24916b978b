package golden

import (
	"image"
	"image/color"
	"math"
	"testing"
)

func TestCompare(t *testing.T) {
	grey := func(w, h int, v uint8) *image.RGBA {
		m := image.NewRGBA(image.Rect(0, 0, w, h))
		for i := range m.Pix {
			m.Pix[i] = v
		}
		return m
	}
	spotted := grey(10, 10, 200)
	spotted.Set(3, 4, color.RGBA{200, 180, 200, 200})
	for _, tt := range []struct {
		name string
		a, b image.Image
		step int
		want float64
	}{
		{"same", grey(4, 4, 9), grey(4, 4, 9), 0, 0},
		{"a little off", grey(4, 4, 9), grey(4, 4, 12), 3, 0},
		{"too far off", grey(4, 4, 9), grey(4, 4, 13), 3, 1},
		{"one spot", spotted, grey(10, 10, 200), 19, 0.01},
		{"one spot, lenient", spotted, grey(10, 10, 200), 20, 0},
		{"other size", grey(4, 4, 9), grey(4, 5, 9), 255, 1},
		{"part of a picture", spotted.SubImage(image.Rect(3, 4, 4, 5)), grey(1, 1, 200), 19, 1},
	} {
		if got, _ := Compare(tt.a, tt.b, tt.step); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%s: %g differs, want %g", tt.name, got, tt.want)
		}
	}
}
