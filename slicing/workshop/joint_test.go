package workshop_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestRimIsThatOfTheJoint: at each joint of a hollow ball the ring of wood is as wide as the two circles say, by Pythagoras.
func TestRimIsThatOfTheJoint(t *testing.T) {
	const radius, wall = 100.0, 20.0
	s := job.Default(stocktest.Catalogue(t))
	s.Wall, s.CapBottom, s.CapTop = wall, 0, 0
	w, _ := laidOut(t, solidtest.Sphere(radius, 40000), s, job.Places{})
	seen := 0
	for _, j := range w.Joints {
		h := math.Abs(j.Z - radius)
		if h > 0.9*(radius-wall) {
			continue
		}
		seen++
		want := math.Sqrt(radius*radius-h*h) - math.Sqrt((radius-wall)*(radius-wall)-h*h)
		if math.Abs(j.Rim-want) > 0.03*want {
			t.Errorf("the rim at %.1f mm is %.2f mm, want %.2f", j.Z, j.Rim, want)
		}
	}
	if seen < 5 {
		t.Fatalf("only %d joints have been looked at", seen)
	}
}
