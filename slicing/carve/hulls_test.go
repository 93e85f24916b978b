package carve_test

import (
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// TestHulls: two discs of radius 10 and 20 beside each other are two parts, with the hull of a disc each; a column's corners
// stand out by up to half a column's diagonal.
func TestHulls(t *testing.T) {
	const step = 0.5
	m := solidtest.Join(disc(10, 0, 8), solidtest.Moved(disc(20, 0, 8), geom.Vec{X: 50}))
	layers := reach(t, m, []stack.Slab{{Number: 1, Bottom: 0, Top: 8}}, carve.Options{Step: step})
	hulls := layers[0].Hulls()
	if len(hulls) != 2 {
		t.Fatalf("%d parts, want 2", len(hulls))
	}
	for _, h := range hulls {
		r := 10.0
		if h.Area() > 1000 {
			r = 20
		}
		low, high := math.Pi*(r-step)*(r-step), math.Pi*(r+step)*(r+step)
		if a := h.Area(); a < low || a > high {
			t.Errorf("the hull of a disc of radius %g has %g mm², want %g to %g", r, a, low, high)
		}
	}
	if got := (&carve.LayerColumns{}).Hulls(); got != nil {
		t.Errorf("a layer without wood has parts: %v", got)
	}
}
