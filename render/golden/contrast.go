package golden

import (
	"image/color"
	"math"
)

// Contrast is the contrast ratio of two opaque colours, from 1 to 21, as the Web Content Accessibility Guidelines 2.1
// define it ("relative luminance", "contrast ratio"); lettering wants 4.5 (success criterion 1.4.3).
func Contrast(a, b color.RGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c color.RGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}
