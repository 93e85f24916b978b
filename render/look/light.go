package look

import (
	"math"

	"grainstack/slicing/geom"
)

// daylight is the light of a big window at the viewer's upper left, the room's own light from above, the floor's from
// below, and a little from the right. Directions are in the stand's frame and go round with the viewer.
type daylight struct {
	window, fill, between, viewer [3]float32
	gloss                         [glossSteps + 1]float32
	rim                           float32
}

// glossSteps is the fineness of the highlight's table.
const glossSteps = 1024

// The light's strength by channel: the window a little warm, the room's upper half a little cool, the floor warm.
var (
	windowLight = [3]float32{0.85, 0.815, 0.76}
	aboveLight  = [3]float32{0.335, 0.335, 0.335}
	belowLight  = [3]float32{0.25, 0.222, 0.188}
	fillLight   = [3]float32{0.10, 0.10, 0.105}
)

// wrap lets the window reach round: it is a wide one.
const wrap = 0.28

func newDaylight(l *lens, coat float64) *daylight {
	toViewer := l.ahead.Scale(-1)
	in := func(right, up, near float64) geom.Vec {
		return l.right.Scale(right).Add(l.up.Scale(up)).Add(toViewer.Scale(near)).Unit()
	}
	window := in(-0.60, 0.62, 0.52)
	d := &daylight{
		window: flat(window), fill: flat(in(0.80, 0.05, 0.45)),
		between: flat(window.Add(toViewer).Unit()), viewer: flat(toViewer),
		rim: float32(0.04 + 0.12*coat),
	}
	for i := range d.gloss {
		d.gloss[i] = float32(gloss(float64(i)/glossSteps, coat))
	}
	return d
}

func flat(v geom.Vec) [3]float32 { return [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} }

// gloss is the highlight by the cosine between normal and half-way direction: a soft broad lobe, and under varnish the
// window's own blurred shape.
func gloss(c, coat float64) float64 {
	angle := math.Acos(min(1, c)) * 180 / math.Pi
	broad := math.Pow(c, 14)*0.022 + math.Pow(c, 36)*0.060*coat
	t := max(0, min(1, (11.5-angle)/8.5))
	return broad + coat*0.075*t*t*(3-2*t)
}

func dot3(a *[3]float32, x, y, z float32) float32 { return a[0]*x + a[1]*y + a[2]*z }

// on is the light that falls on a normal, by channel, and the highlight; open is 0 to 1.
func (d *daylight) on(x, y, z, open float32) (e [3]float32, shine float32) {
	w := max(0, (dot3(&d.window, x, y, z)+wrap)*(1/(1+wrap)))
	w *= (0.30 + 0.70*w) * (0.35 + 0.65*open)
	f := max(0, dot3(&d.fill, x, y, z)) * open
	s := 0.5 + 0.5*z
	for i := range e {
		e[i] = windowLight[i]*w + (belowLight[i]+s*(aboveLight[i]-belowLight[i]))*open + fillLight[i]*f
	}
	c := max(0, min(1, dot3(&d.between, x, y, z)))
	graze := 1 - max(0, dot3(&d.viewer, x, y, z))
	graze *= graze
	return e, (d.gloss[int(c*glossSteps)] + d.rim*graze*graze*s) * open
}
