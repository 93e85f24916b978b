package look

import (
	"image"
	"image/color"
	"math"
	"strconv"

	"grainstack/slicing/geom"
)

const (
	digitTall  = 9.6 // pixels
	digitWide  = digitTall / 1.6
	digitSpace = 2.2
	digitPen   = 1.6
	badge      = 10.0 // radius of the disc that a number stands on
)

// strokes is a digit as a line that the pen follows, from the upper left corner, by its width; it is 1.6 high.
func strokes(digit rune) []geom.Vec2 {
	return [10][]geom.Vec2{
		{{X: .3}, {X: .7}, {X: 1, Y: .35}, {X: 1, Y: 1.25}, {X: .7, Y: 1.6}, {X: .3, Y: 1.6}, {Y: 1.25}, {Y: .35}, {X: .3}},
		{{X: .2, Y: .35}, {X: .6}, {X: .6, Y: 1.6}},
		{{Y: .4}, {X: .25, Y: .05}, {X: .7}, {X: 1, Y: .35}, {X: .95, Y: .65}, {Y: 1.6}, {X: 1, Y: 1.6}},
		{{Y: .2}, {X: .3}, {X: .7}, {X: 1, Y: .35}, {X: .7, Y: .72}, {X: .35, Y: .75}, {X: .7, Y: .8}, {X: 1, Y: 1.2}, {X: .7, Y: 1.6}, {X: .3, Y: 1.6}, {Y: 1.4}},
		{{X: .75, Y: 1.6}, {X: .75}, {Y: 1.1}, {X: 1, Y: 1.1}},
		{{X: .95}, {X: .15}, {X: .05, Y: .7}, {X: .6, Y: .62}, {X: 1, Y: .95}, {X: .95, Y: 1.35}, {X: .6, Y: 1.6}, {X: .25, Y: 1.6}, {Y: 1.4}},
		{{X: .9, Y: .1}, {X: .5}, {X: .15, Y: .35}, {Y: 1}, {X: .1, Y: 1.4}, {X: .45, Y: 1.6}, {X: .8, Y: 1.5}, {X: 1, Y: 1.1}, {X: .8, Y: .75}, {X: .4, Y: .7}, {X: .05, Y: 1}},
		{{}, {X: 1}, {X: .4, Y: 1.6}},
		{{X: .5, Y: .72}, {X: .15, Y: .55}, {X: .1, Y: .2}, {X: .4}, {X: .65}, {X: .9, Y: .2}, {X: .85, Y: .55}, {X: .5, Y: .72}, {X: .05, Y: 1}, {X: .05, Y: 1.4}, {X: .35, Y: 1.6}, {X: .7, Y: 1.6}, {X: .95, Y: 1.4}, {X: .95, Y: 1}, {X: .5, Y: .72}},
		{{X: .1, Y: 1.5}, {X: .5, Y: 1.6}, {X: .85, Y: 1.25}, {X: 1, Y: .6}, {X: .9, Y: .2}, {X: .55}, {X: .2, Y: .1}, {Y: .5}, {X: .2, Y: .85}, {X: .6, Y: .9}, {X: .95, Y: .6}},
	}[digit-'0']
}

// number writes n on a small disc of paper, so that it can be read on any wood; parts outside the picture are left out.
func number(img *image.RGBA, cx, cy float64, n int, p Paper) {
	var lines [][]geom.Vec2
	for _, digit := range strconv.Itoa(n) {
		lines = append(lines, strokes(digit))
	}
	left := cx - (float64(len(lines))*(digitWide+digitSpace)-digitSpace)/2
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if !(cx > -badge && cy > -badge && cx < float64(w)+badge && cy < float64(h)+badge) {
		return
	}
	for y := max(0, int(cy-badge-1)); y <= min(h-1, int(cy+badge+1)); y++ {
		for x := max(0, int(cx-badge-1)); x <= min(w-1, int(cx+badge+1)); x++ {
			at := geom.Vec2{X: float64(x) + 0.5, Y: float64(y) + 0.5}
			blend(img, x, y, badge+0.5-math.Hypot(at.X-cx, at.Y-cy), p.Top)
			off := math.Inf(1)
			for i, line := range lines {
				corner := geom.Vec2{X: left + float64(i)*(digitWide+digitSpace), Y: cy - digitTall/2}
				off = min(off, toLine(at.Sub(corner).Scale(1/digitWide), line)*digitWide)
			}
			blend(img, x, y, digitPen/2+0.5-off, p.Ink)
		}
	}
}

// blend lays a colour over a pixel, as much of it as strength from 0 to 1 says.
func blend(img *image.RGBA, x, y int, strength float64, c color.RGBA) {
	k := max(0, min(1, strength))
	o := img.Pix[y*img.Stride+4*x:]
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		o[i] = uint8(float64(o[i]) + k*(float64(v)-float64(o[i])) + 0.5)
	}
}

// toLine is how far a place lies from a line of several points.
func toLine(p geom.Vec2, line []geom.Vec2) float64 {
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		t := max(0, min(1, p.Sub(line[i-1]).Dot(d)/d.Dot(d)))
		least = min(least, p.Sub(line[i-1].Add(d.Scale(t))).Len())
	}
	return least
}
