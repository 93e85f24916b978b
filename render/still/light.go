package still

import (
	"math"

	"grainstack/render/look"
	"grainstack/slicing/geom"
)

// A ray is one direction that light comes from.
type ray struct {
	towards geom.Vec
	colour  [3]float32 // on a face that is turned to it
	part    part
	width   float64 // radians to either side of what the direction stands for
}

type part uint8

const (
	key   part = iota // the window, the spot or the zenith
	above             // the room, from above
	side              // the room's lighter side
	below             // what the floor throws back
)

// sideRays is how many directions a look the lighter side gets, sideSpread how wide it is, in radians.
const (
	sideRays   = 2
	sideSpread = 0.35
)

// rays are the directions of the k-th look. Those of all looks together are even, and each stands for as much of the light as
// any other of its part: in a cap of half angle a, n of them for a/√n to either side; in a half room for √(2/n).
func rays(l look.Lamp, c Care, k int) []ray {
	var all []ray
	add := func(d geom.Vec, colour [3]float64, by, width float64, p part) {
		all = append(all, ray{d, [3]float32{float32(colour[0] * by), float32(colour[1] * by), float32(colour[2] * by)}, p, width})
	}
	root := func(count int) float64 { return math.Sqrt(float64(count * c.Looks)) }
	for i := range c.Key {
		add(inCap(l.Key, l.Spread, i*c.Looks+k, c.Key*c.Looks), l.KeyLight, 1/float64(c.Key), l.Spread/root(c.Key), key)
	}
	for i := range sideRays {
		add(inCap(l.FillFrom, sideSpread, i*c.Looks+k, sideRays*c.Looks), l.Fill, 1.0/sideRays, sideSpread/root(sideRays), side)
	}
	// A half room of even light gives a level face the sum of the cosines, half of the count: hence twice.
	for i := range c.Above {
		add(inHalf(i*c.Looks+k, c.Above*c.Looks, 1), l.Above, 2/float64(c.Above), math.Sqrt2/root(c.Above), above)
	}
	for i := range c.Below {
		add(inHalf(i*c.Looks+k, c.Below*c.Looks, -1), l.Below, 2/float64(c.Below), math.Sqrt2/root(c.Below), below)
	}
	return all
}

// spiral is the angle by which points of a spiral follow one another evenly.
var spiral = math.Pi * (3 - math.Sqrt(5))

// inCap is the i-th of n directions spread evenly within an angle of the middle.
func inCap(middle geom.Vec, spread float64, i, n int) geom.Vec {
	across := middle.Cross(geom.Vec{Z: 1})
	if across.Len() < 1e-3 {
		across = geom.Vec{X: 1}
	}
	across = across.Unit()
	up := across.Cross(middle)
	off, round := spread*math.Sqrt((float64(i)+0.5)/float64(n)), spiral*float64(i)
	return middle.Scale(math.Cos(off)).Add(across.Scale(math.Cos(round) * math.Sin(off))).Add(up.Scale(math.Sin(round) * math.Sin(off))).Unit()
}

// inHalf is the i-th of n directions spread evenly over the upper half (1) or the lower half (-1) of the room.
func inHalf(i, n int, half float64) geom.Vec {
	z := (float64(i) + 0.5) / float64(n)
	r, round := math.Sqrt(1-z*z), spiral*float64(i)
	return geom.Vec{X: r * math.Cos(round), Y: r * math.Sin(round), Z: half * z}
}
