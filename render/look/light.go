package look

import (
	"math"

	"grainstack/slicing/geom"
)

// A Lamp is a light as figures: a key light from one side, and what comes from all over the upper and the lower half of the
// room. Strengths are by channel: 1 lights a white face that is turned to it to the screen's white.
type Lamp struct {
	Key              geom.Vec // unit, towards the light, in the stand's frame
	Spread           float64  // radians from the key's middle to its rim
	KeyLight         [3]float64
	Above, Below     [3]float64 // on a face that looks straight up, or down
	Fill             [3]float64 // from the viewer's right
	FillFrom         geom.Vec
	wrap, soft, lobe float64
}

// Lamp is the light for a view, with which it goes round.
func (l Light) Lamp(b *Body, v View) Lamp {
	lens := newLens(b, &v, Strip{})
	return l.lamp(&lens)
}

func (l Light) lamp(lens *lens) Lamp {
	in := func(right, up, near float64) geom.Vec {
		return lens.right.Scale(right).Add(lens.up.Scale(up)).Add(lens.ahead.Scale(-near)).Unit()
	}
	lamp := Lamp{FillFrom: in(0.80, 0.05, 0.45)}
	switch l {
	case Spot:
		lamp.Key, lamp.Spread, lamp.wrap, lamp.soft, lamp.lobe = in(0.42, 0.80, 0.50), 0.07, 0.04, 0.10, 0.75
		lamp.KeyLight = [3]float64{1.00, 0.925, 0.80}
		lamp.Above, lamp.Below = [3]float64{0.150, 0.150, 0.156}, [3]float64{0.165, 0.142, 0.112}
		lamp.Fill = [3]float64{0.055, 0.055, 0.060}
	case Overcast:
		lamp.Key, lamp.Spread, lamp.wrap, lamp.soft, lamp.lobe = geom.Vec{Z: 1}, 0.9, 0.85, 0.30, 1.5
		lamp.KeyLight = [3]float64{0.47, 0.475, 0.485}
		lamp.Above, lamp.Below = [3]float64{0.50, 0.505, 0.515}, [3]float64{0.345, 0.325, 0.295}
		lamp.Fill = [3]float64{0.045, 0.045, 0.047}
	default:
		lamp.Key, lamp.Spread, lamp.wrap, lamp.soft, lamp.lobe = in(-0.60, 0.62, 0.52), 0.36, 0.28, 0.70, 1
		lamp.KeyLight = [3]float64{0.875, 0.85, 0.805}
		lamp.Above, lamp.Below = [3]float64{0.315, 0.316, 0.318}, [3]float64{0.235, 0.208, 0.176}
		lamp.Fill = [3]float64{0.10, 0.10, 0.105}
	}
	return lamp
}

// A lighting is a lamp made ready for one picture.
type lighting struct {
	key, fill, between, viewer             vec
	keyLight, aboveLight, belowLight, side vec
	wrap, unwrap, soft                     float32
	gloss                                  [glossSteps + 1]float32
	rim                                    float32
	near                                   float32 // mm: nearFloor, or nothing for who looks up through the floor
	sheen                                  sheen
}

// glossSteps is the fineness of the highlight's table.
const glossSteps = 1024

func newLighting(l *lens, light Light, f Finish) *lighting {
	lamp, toViewer := light.lamp(l), l.ahead.Scale(-1)
	channels := func(c [3]float64) vec { return vec{float32(c[0]), float32(c[1]), float32(c[2])} }
	gloss := within(f.Gloss, 1)
	d := &lighting{
		key: short(lamp.Key), fill: short(lamp.FillFrom), between: short(lamp.Key.Add(toViewer).Unit()), viewer: short(toViewer),
		keyLight: channels(lamp.KeyLight), aboveLight: channels(lamp.Above), belowLight: channels(lamp.Below), side: channels(lamp.Fill),
		wrap: float32(lamp.wrap), unwrap: float32(1 / (1 + lamp.wrap)), soft: float32(lamp.soft),
		rim: float32(0.035 + 0.16*gloss), sheen: newSheen(lamp.Key, toViewer),
	}
	if l.ahead.Z < 0 {
		d.near = nearFloor
	}
	for i := range d.gloss {
		d.gloss[i] = float32(shine(float64(i)/glossSteps, gloss, lamp.lobe))
	}
	return d
}

// shine is the highlight by the cosine between normal and half-way direction: a soft broad lobe, and the more gloss the
// clearer the light's own blurred shape, so many times as wide as the window's.
func shine(c, gloss, lobe float64) float64 {
	angle := math.Acos(min(1, c)) * 180 / math.Pi / lobe
	broad := math.Pow(c, 12)*0.014 + math.Pow(c, 30)*0.12*gloss
	edge := 13 - 7*gloss
	t := max(0, min(1, (8+edge/2-angle)/edge))
	return broad + gloss*0.19*t*t*(3-2*t)
}

// nearFloor is the height in mm at which the floor's light has come up to half: closer to it the piece stands in its own
// way.
const nearFloor = 22

// A Lit is the light on a place.
type Lit struct {
	Red, Green, Blue float32 // all of it
	Key              float32 // the key's part, 1 for its full strength
	Clear, Sky       float32 // how much of the key's and of the room's mirror image gets through, 0 to 1
}

// on is the light that falls on a normal at height h mm; open is 0 to 1.
func (d *lighting) on(x, y, z, h, open float32) Lit {
	w := max(0, (d.key.dot(x, y, z)+d.wrap)*d.unwrap)
	w *= (1 - d.soft + d.soft*w) * (0.35 + 0.65*open)
	f := max(0, d.fill.dot(x, y, z)) * open
	s := 0.5 + 0.5*z
	h = max(h, 0) + 1e-3
	low := (1 - s) * open * (0.25 + 0.75*h/(h+d.near))
	high := s * open
	return Lit{
		Red:   d.keyLight.x*w + d.belowLight.x*low + d.aboveLight.x*high + d.side.x*f,
		Green: d.keyLight.y*w + d.belowLight.y*low + d.aboveLight.y*high + d.side.y*f,
		Blue:  d.keyLight.z*w + d.belowLight.z*low + d.aboveLight.z*high + d.side.z*f,
		Key:   w, Clear: open, Sky: open,
	}
}

// mirrored is the light that the finish throws back at the viewer as a mirror would, white.
func (d *lighting) mirrored(x, y, z, facing float32, l *Lit) float32 {
	c := max(0, min(1, d.between.dot(x, y, z)))
	graze := 1 - facing
	graze *= graze
	return d.gloss[int(c*glossSteps)]*l.Clear + d.rim*graze*graze*(0.5+0.5*z)*l.Sky
}
