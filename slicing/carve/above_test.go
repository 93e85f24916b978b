package carve_test

import (
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
)

// TestAbove: a cone's figures above a level are a disc of known area (plane geometry), a plateau that touches the map's edge
// keeps its cells, and a hole in it is a ring that runs the other way.
func TestAbove(t *testing.T) {
	const n, step, r, high = 121, 0.5, 25.0, 10.0
	cone := carve.HeightMap{Origin: geom.Vec2{X: -30, Y: -30}, Step: step, W: n, H: n, Z: make([]float32, n*n)}
	for k := range cone.Z {
		p := cone.Place(k%n, k/n)
		cone.Z[k] = float32(max(0, high*(1-math.Hypot(p.X, p.Y)/r)))
	}
	for _, level := range []float64{0.5, 2, 5, 9} {
		rr := r * (1 - level/high)
		if got, want := cone.Above(level).Area(), math.Pi*rr*rr; math.Abs(got-want) > 0.02*want+step*step {
			t.Errorf("above %g: %.2f mm², want %.2f", level, got, want)
		}
	}
	if got := cone.Above(high); len(got) != 0 {
		t.Errorf("nothing lies above the top, got %v", got)
	}
	flat := carve.HeightMap{Step: 2, W: 6, H: 4, Z: make([]float32, 24)}
	for k := range flat.Z {
		flat.Z[k] = 3
	}
	full := flat.Above(1)
	if got := full.Area(); len(full) != 1 || math.Abs(got-12*8) > 2 { // four corners are cut off
		t.Errorf("a full map of 12 x 8 mm: %v of %.2f mm²", full, got)
	}
	flat.Z[2*6+3] = 0
	if holed := flat.Above(1); len(holed) != 2 || holed[0].Area()*holed[1].Area() >= 0 {
		t.Errorf("with a hole: %v", holed)
	}
	if got := (&carve.HeightMap{Step: 1, W: 3, H: 3}).Above(0); got != nil {
		t.Errorf("a map without figures: %v", got)
	}
}

// TestWithout: places that touch at a corner count together, smaller ones are gone, and a map that holds nothing stays so.
func TestWithout(t *testing.T) {
	m := carve.HeightMap{Step: 2, W: 6, H: 3, Z: []float32{
		5, 0, 0, 0, 1, 0,
		0, 5, 0, 0, 0, 0,
		0, 0, 0, 0, 0, 3,
	}}
	for _, tt := range []struct {
		smallest float64
		want     float64 // mm³ left
	}{{0, 56}, {5, 52}, {13, 40}, {41, 0}} {
		got, sum := m.Without(tt.smallest), 0.0
		for _, z := range got.Z {
			sum += float64(z) * 4
		}
		if sum != tt.want || (sum == 0) != (got.Z == nil) {
			t.Errorf("without less than %g mm³: %g left, want %g", tt.smallest, sum, tt.want)
		}
	}
	if none := (&carve.HeightMap{Step: 1, W: 2, H: 2}); none.Without(0).Z != nil {
		t.Error("nothing became something")
	}
}
