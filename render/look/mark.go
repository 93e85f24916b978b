package look

import (
	"image"
	"image/color"
	"math"
)

const (
	ringRadius = 7.0 // pixels, where a mark has none of its own
	ringWidth  = 1.8

	largestRing = 90.0
)

// ring draws the marks: a ring round each place, fainter where the piece hides it, and its number beside it.
func (r *Renderer) ring(img *image.RGBA, d *Dress) {
	for _, m := range d.Marks {
		x, y, clear := r.Pixel(m.Point)
		strength := 1.0
		if !clear {
			strength = 0.35
		}
		radius := m.Radius
		if radius <= 0 {
			radius = ringRadius
		}
		radius = min(max(radius, m.Reach*r.PixelsPerMM()), largestRing)
		circle(img, x, y, radius, strength, d.Paper.Accent)
		if m.Number > 0 {
			off := radius*math.Sqrt2/2 + badge*math.Sqrt2/2
			number(img, x+off, y-off, m.Number, d.Paper)
		}
	}
}

// circle draws one ring with soft edges; parts outside the picture are left out.
func circle(img *image.RGBA, cx, cy, radius, strength float64, c color.RGBA) {
	reach := radius + ringWidth
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if !(cx > -reach && cy > -reach && cx < float64(w)+reach && cy < float64(h)+reach) {
		return
	}
	for y := max(0, int(cy-reach)); y <= min(h-1, int(cy+reach)); y++ {
		for x := max(0, int(cx-reach)); x <= min(w-1, int(cx+reach)); x++ {
			off := math.Abs(math.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy) - radius)
			blend(img, x, y, strength*max(0, min(1, ringWidth/2+0.5-off)), c)
		}
	}
}
