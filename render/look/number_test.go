package look

import (
	"image"
	"image/color"
	"testing"
)

// TestNumbersAreTold: no two numbers look alike, on light paper and on dark, each is dark on light or light on dark, and at the edge of a
// picture nothing goes wrong.
func TestNumbersAreTold(t *testing.T) {
	for name, p := range map[string]Paper{
		"light": {Top: color.RGBA{0xf6, 0xf1, 0xe6, 0xff}, Ink: color.RGBA{0x29, 0x24, 0x1f, 0xff}},
		"dark":  {Top: color.RGBA{0x2c, 0x28, 0x24, 0xff}, Ink: color.RGBA{0xee, 0xe7, 0xd9, 0xff}},
	} {
		seen := map[string]int{}
		for n := 1; n <= 99; n++ {
			img := image.NewRGBA(image.Rect(0, 0, 30, 30))
			number(img, 15, 15, n, p)
			if was, ok := seen[string(img.Pix)]; ok {
				t.Errorf("%s: %d looks as %d does", name, n, was)
			}
			seen[string(img.Pix)] = n
			ink := 0
			for i := 0; i < len(img.Pix); i += 4 {
				if d := int(img.Pix[i]) - int(p.Ink.R); d*d < 30*30 && img.Pix[i] != 0 {
					ink++
				}
			}
			if ink < 8 || ink > 150 {
				t.Errorf("%s: %d has %d pixels of ink", name, n, ink)
			}
			number(img, -5, 32, n, p)
		}
	}
}
