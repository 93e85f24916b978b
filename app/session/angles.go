package session

import (
	"math"

	"grainstack/slicing/geom"
)

// near is the way to write a turn as three angles that lies nearest to angles of before. Each turn has two ways, (x, y, z)
// and (x+180, 180-y, z+180); where y is ±90 only the sum or the difference of x and z counts, and z is kept.
func near(t geom.Turn, before [3]float64) [3]float64 {
	if closeTo(geom.TurnXYZ(before[0], before[1], before[2]), t) {
		return before
	}
	x, y, z := t.Degrees()
	ways := [][3]float64{{x, y, z}, {x + 180, 180 - y, z + 180}}
	if math.Abs(math.Abs(y)-90) < 1e-6 {
		kept := x + math.Copysign(1, y)*before[2]
		ways = [][3]float64{{kept, y, before[2]}, {kept, math.Copysign(180, y) - y, before[2]}}
	}
	best, least := [3]float64{within(x), within(y), within(z)}, math.Inf(1)
	for _, w := range ways {
		far := 0.0
		for i := range w {
			w[i] = within(w[i])
			far += math.Abs(within(w[i] - before[i]))
		}
		if far < least && closeTo(geom.TurnXYZ(w[0], w[1], w[2]), t) {
			best, least = w, far
		}
	}
	return best
}

// within is an angle in (-180, 180], free of the noise of its last places.
func within(deg float64) float64 {
	deg = math.Mod(deg, 360)
	switch {
	case deg > 180+1e-9:
		deg -= 360
	case deg <= -180+1e-9:
		deg += 360
	}
	return math.Round(deg*1e7) / 1e7
}

func closeTo(a, b geom.Turn) bool {
	for i := range a {
		for j := range a[i] {
			if math.Abs(a[i][j]-b[i][j]) > 1e-7 {
				return false
			}
		}
	}
	return true
}
