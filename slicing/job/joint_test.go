package job_test

import (
	"math"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestRimIsThatOfTheJoint: at each joint of a hollow ball the ring of wood is as wide as the two circles say, by Pythagoras.
func TestRimIsThatOfTheJoint(t *testing.T) {
	const radius, wall = 100.0, 20.0
	s := job.Default(stocktest.Catalogue(t))
	s.Wall, s.CapBottom, s.CapTop = wall, 0, 0
	w, _ := workshop(t, solidtest.Sphere(radius, 40000), s, job.Places{})
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

// TestInsideOutLayersAreWithheld: a block whose upper end is drawn through itself holds less than nothing there.
func TestInsideOutLayersAreWithheld(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	m := solidtest.Moved(solidtest.Box(100, 70, 80), geom.Vec{X: -50, Y: -35})
	points := make([]mesh.Point, len(m.Points))
	for i, p := range m.Points {
		if points[i] = p; p[2] > 0 {
			points[i][0] = -0.6 * p[0]
		}
	}
	f, err := job.Settle(t.Context(), standing(t, &mesh.Mesh{Points: points, Triangles: m.Triangles}, s), s, c)
	if err != nil || !strings.Contains(f.Withheld, "runs through itself") {
		t.Errorf("not withheld: %q, %v, %.1f mm³ of wood", f.Withheld, err, f.Totals.Wood)
	}
}
