package carve_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// TestOutlines: two discs of radius 10 and 20 and a ring of 14 to 20 beside each other are three parts with the areas and the
// sizes of those.
func TestOutlines(t *testing.T) {
	const step = 0.5
	ring := solidtest.Join(disc(20, 0, 8), solidtest.Flip(disc(14, -1, 9)))
	m := solidtest.Join(disc(10, 0, 8), solidtest.Moved(disc(20, 0, 8), geom.Vec{X: 50}), solidtest.Moved(ring, geom.Vec{X: 100}))
	layers := reach(t, m, []stack.Slab{{Number: 1, Bottom: 0, Top: 8}}, carve.Options{Step: step})
	parts := layers[0].Outlines()
	if len(parts) != 3 {
		t.Fatalf("%d parts, want 3", len(parts))
	}
	for i, want := range []struct{ r, area float64 }{{10, math.Pi * 100}, {20, math.Pi * 400}, {20, math.Pi * (400 - 196)}} {
		k := slices.IndexFunc(parts, func(g geom.Region) bool { return math.Abs(g.Box().Min.X+want.r-50*float64(i)) < 5 })
		if k < 0 {
			t.Fatalf("no part lies at %d", 50*i)
		}
		near(t, fmt.Sprintf("area at %d", 50*i), parts[k].Area(), want.area, 0.02)
		near(t, fmt.Sprintf("width at %d", 50*i), parts[k].Box().Size().X, 2*want.r, step/want.r)
	}
	if got := (&carve.LayerColumns{}).Outlines(); got != nil {
		t.Errorf("a layer without wood has parts: %v", got)
	}
}
