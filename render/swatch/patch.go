package swatch

import (
	"fmt"
	"image"
	"math"
	"slices"

	"grainstack/render/tone"
)

// A Patch is the tone round a place of a photo.
type Patch struct {
	At     image.Point // in pixels of the file
	Radius float64     // pixels of the file
	Light  tone.Light  // median of each channel
	Spread float64     // half of the pixels are nearer to the tone than this, as a CIELAB distance
	Hard   float64     // share of pixels that are as light or as dark as the file can say: their tone is not known
	Pixels int         // that it is made of
}

// Bounds of a patch.
const (
	leastPixels = 9    // fewer say nothing about a board with grain and pores
	mostSampled = 4000 // more don't make the median truer, and are sorted in a millisecond
)

// UsualRadius is that of a patch on a photo of this size, pixels: small enough to lie within one veneer of a board that fills
// the photo's width.
func (p *Photo) UsualRadius() float64 {
	return max(3, 0.006*float64(max(p.size.X, p.size.Y)))
}

// Patch is the tone within a radius of a place, both in pixels of the file. The error is a sentence for the maker.
func (p *Photo) Patch(at image.Point, radius float64) (Patch, error) {
	if !at.In(image.Rectangle{Max: p.size}) {
		return Patch{}, fmt.Errorf("there is nothing of the photo at %d, %d: it is of %d × %d pixels", at.X, at.Y, p.size.X, p.size.Y)
	}
	if !(radius >= 0 && radius < 1e6) {
		return Patch{}, fmt.Errorf("a patch can't have a radius of %g pixels", radius)
	}
	step := float64(p.step)
	cx, cy, r := (float64(at.X)+0.5)/step-0.5, (float64(at.Y)+0.5)/step-0.5, max(radius/step, 1.5)
	out := Patch{At: at, Radius: radius}
	skip := max(1, int(math.Sqrt(math.Pi*r*r/mostSampled)))
	var all []tone.Light
	hard := 0
	for y := max(0, int(cy-r)); y <= min(p.h-1, int(cy+r)+1); y += skip {
		for x := max(0, int(cx-r)); x <= min(p.w-1, int(cx+r)+1); x += skip {
			i := y*p.w + x
			if math.Hypot(float64(x)-cx, float64(y)-cy) > r || p.light[i][0] < 0 {
				continue
			}
			all = append(all, p.light[i])
			if p.hard[i] {
				hard++
			}
		}
	}
	if len(all) < min(leastPixels, p.w*p.h) || len(all) == 0 {
		return Patch{}, fmt.Errorf("there is too little of the photo round %d, %d: pick a place further in", at.X, at.Y)
	}
	out.Pixels, out.Hard = len(all), float64(hard)/float64(len(all))
	out.Light = medianLight(all)
	out.Spread = spread(all, out.Light.Lab())
	return out, nil
}

// medianLight is the median of each channel.
func medianLight(all []tone.Light) (m tone.Light) {
	values := make([]float32, len(all))
	for c := range m {
		for i, l := range all {
			values[i] = l[c]
		}
		slices.Sort(values)
		n := len(values)
		m[c] = (values[(n-1)/2] + values[n/2]) / 2
	}
	return m
}

// spread is the median distance from a tone.
func spread(all []tone.Light, from tone.Lab) float64 {
	far := make([]float64, len(all))
	for i, l := range all {
		far[i] = l.Lab().Difference(from)
	}
	slices.Sort(far)
	return far[len(far)/2]
}
