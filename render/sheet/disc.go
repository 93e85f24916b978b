package sheet

import (
	"math"

	"grainstack/slicing/geom"
)

// A disc shows the half sphere z ≥ 0 so that equal areas stay equal, seen from above with X to the right and Y up: Lambert's
// azimuthal projection, the radius being √2 sin of half the angle from the pole (Snyder, Map Projections: A Working Manual,
// USGS Professional Paper 1395, 1987, chapter 24).
type disc struct {
	middle geom.Vec2
	radius float64 // of the rim, where z is 0
}

// spot is where a direction lies; one that points down is shown by the other end of its axis.
func (c disc) spot(d geom.Vec) geom.Vec2 {
	d = d.Unit()
	if d.Z < 0 {
		d = d.Scale(-1)
	}
	// √2 sin(θ/2) = √(1 - cos θ), and 1 - z² is sin² θ
	k := c.radius / math.Sqrt(1+d.Z)
	return vec(c.middle.X+k*d.X, c.middle.Y-k*d.Y)
}

// direction undoes spot; ok is false beyond the rim. Beyond it the sphere goes on: the other end of an axis is given, as far
// as there is one.
func (c disc) direction(p geom.Vec2) (d geom.Vec, ok bool) {
	x, y := (p.X-c.middle.X)/c.radius, (c.middle.Y-p.Y)/c.radius
	r2 := x*x + y*y
	if !(r2 <= 2) {
		return geom.Vec{}, false
	}
	k := math.Sqrt(2 - r2)
	return geom.Vec{X: k * x, Y: k * y, Z: 1 - r2}, r2 <= 1
}

// rim is the disc's edge.
func (c disc) rim() geom.Ring { return c.circle(1) }

// circle is a circle about the middle at a share of the radius.
func (c disc) circle(share float64) geom.Ring {
	const n = 180
	out := make(geom.Ring, n)
	for i := range out {
		s, cs := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = c.middle.Add(vec(cs, s).Scale(c.radius * share))
	}
	return out
}
