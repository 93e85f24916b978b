package glue

import "math"

// A Lift is how a load is taken up with both hands, in cm and degrees as the lifting equation has them.
type Lift struct {
	HandsCm  float64 // from the middle between the ankles to the hands
	HeightCm float64 // of the hands at the start
	TravelCm float64 // up or down
	TwistDeg float64
	Grip     float64 // coupling multiplier: 1 good, 0.95 fair, 0.9 poor; 0 stands for 0.9
}

// Limit is the recommended weight limit in g of the revised NIOSH lifting equation for lifts now and then (frequency
// multiplier 1): 23 kg × (25/H)(1 − 0.003|V − 75|)(0.82 + 4.5/D)(1 − 0.0032A)·grip (NIOSH 94-110, rev. 9/2021; the twist and
// grip factors, and that H counts as at least 25, D as at least 25, from memory). It is 0 beyond the equation's reach: hands
// further than 63 cm, higher than 175 cm, more than 135° of twist. It is meant for one person's two hands.
func (l Lift) Limit() float64 {
	if l.HandsCm > 63 || l.HeightCm < 0 || l.HeightCm > 175 || math.Abs(l.TwistDeg) > 135 {
		return 0
	}
	grip := l.Grip
	if grip <= 0 {
		grip = 0.9
	}
	reach := 25 / max(l.HandsCm, 25)
	height := 1 - 0.003*math.Abs(l.HeightCm-75)
	travel := min(1, 0.82+4.5/max(l.TravelCm, 25))
	twist := 1 - 0.0032*math.Abs(l.TwistDeg)
	return 23000 * reach * height * travel * twist * min(grip, 1)
}

// benchCm is the height of a bench top, from which sub-stacks are taken (common practice, no source).
const benchCm = 90

// liftOf is the lift that puts a sub-stack of so much width on one so tall: the hands go round it, H = 20 cm + half the
// width (NIOSH 94-110, from memory), and rise by the height of what is below.
func liftOf(width, height float64) Lift {
	return Lift{HandsCm: 20 + width/20, HeightCm: benchCm, TravelCm: height / 10}
}
