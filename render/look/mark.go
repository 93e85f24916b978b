package look

import (
	"image"
	"math"
)

const (
	ringRadius = 7.0 // pixels, where a mark has none of its own
	ringWidth  = 1.8

	largestRing = 90.0
)

// ring draws the marks: a ring round each place, fainter where the piece hides it.
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
		circle(img, x, y, radius, strength, [3]uint8{d.Paper.Accent.R, d.Paper.Accent.G, d.Paper.Accent.B})
	}
}

// circle draws one ring with soft edges; parts outside the picture are left out.
func circle(img *image.RGBA, cx, cy, radius, strength float64, c [3]uint8) {
	reach := radius + ringWidth
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if !(cx > -reach && cy > -reach && cx < float64(w)+reach && cy < float64(h)+reach) {
		return
	}
	for y := max(0, int(cy-reach)); y <= min(h-1, int(cy+reach)); y++ {
		for x := max(0, int(cx-reach)); x <= min(w-1, int(cx+reach)); x++ {
			off := math.Abs(math.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy) - radius)
			k := strength * max(0, min(1, ringWidth/2+0.5-off))
			o := img.Pix[y*img.Stride+4*x:]
			for i := range c {
				o[i] = uint8(float64(o[i]) + k*(float64(c[i])-float64(o[i])) + 0.5)
			}
		}
	}
}
