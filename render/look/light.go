package look

import (
	"math"

	"grainstack/slicing/geom"
)

// daylight is the light of a big window at the viewer's upper left, the room's own light from above, the floor's from
// below, and a little from the right. Directions are in the stand's frame and go round with the viewer.
type daylight struct {
	window, fill, between, viewer vec
	gloss                         [glossSteps + 1]float32
	rim                           float32
	near                          float32 // mm: nearFloor, or nothing for who looks up through the floor
}

// glossSteps is the fineness of the highlight's table.
const glossSteps = 1024

// The light's strength by channel: the window a little warm, the room's upper half a little cool, the floor warm.
var (
	windowLight = vec{0.875, 0.85, 0.805}
	aboveLight  = vec{0.315, 0.316, 0.318}
	belowLight  = vec{0.235, 0.208, 0.176}
	fillLight   = vec{0.10, 0.10, 0.105}
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
		window: short(window), fill: short(in(0.80, 0.05, 0.45)),
		between: short(window.Add(toViewer).Unit()), viewer: short(toViewer),
		rim: float32(0.04 + 0.12*coat),
	}
	if l.ahead.Z < 0 {
		d.near = nearFloor
	}
	for i := range d.gloss {
		d.gloss[i] = float32(gloss(float64(i)/glossSteps, coat))
	}
	return d
}

// gloss is the highlight by the cosine between normal and half-way direction: a soft broad lobe, and under varnish the
// window's own blurred shape.
func gloss(c, coat float64) float64 {
	angle := math.Acos(min(1, c)) * 180 / math.Pi
	broad := math.Pow(c, 14)*0.022 + math.Pow(c, 36)*0.060*coat
	t := max(0, min(1, (11.5-angle)/8.5))
	return broad + coat*0.085*t*t*(3-2*t)
}

func (a *vec) dot(x, y, z float32) float32 { return a.x*x + a.y*y + a.z*z }

// nearFloor is the height in mm at which the floor's light has come up to half: closer to it the piece stands in its own
// way.
const nearFloor = 22

// on is the light that falls on a normal at height h mm, by channel, and the highlight; open is 0 to 1.
func (d *daylight) on(x, y, z, h, open float32) (red, green, blue, shine float32) {
	w := max(0, (d.window.dot(x, y, z)+wrap)*(1/(1+wrap)))
	w *= (0.30 + 0.70*w) * (0.35 + 0.65*open)
	f := max(0, d.fill.dot(x, y, z)) * open
	s := 0.5 + 0.5*z
	h = max(h, 0) + 1e-3
	low := (1 - s) * open * (0.25 + 0.75*h/(h+d.near))
	high := s * open
	red = windowLight.x*w + belowLight.x*low + aboveLight.x*high + fillLight.x*f
	green = windowLight.y*w + belowLight.y*low + aboveLight.y*high + fillLight.y*f
	blue = windowLight.z*w + belowLight.z*low + aboveLight.z*high + fillLight.z*f
	c := max(0, min(1, d.between.dot(x, y, z)))
	graze := 1 - max(0, d.viewer.dot(x, y, z))
	graze *= graze
	return red, green, blue, (d.gloss[int(c*glossSteps)] + d.rim*graze*graze*s) * open
}
