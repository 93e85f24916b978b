package carve_test

import (
	"context"
	"fmt"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// A ring that stands on its edge in one thick layer hides what lies inside it; in two layers it hides nothing.
func ExampleReach() {
	ctx := context.Background()
	ring := solidtest.Torus(20, 5, 360, 180)
	p, _ := stack.Place(ctx, ring, stack.Stand{Turn: geom.TurnXYZ(90, 0, 0), Scale: 1})
	for _, thickness := range []float64{50, 25} {
		slabs, _ := stack.Layers(p.Box.Size().Z, thickness, thickness)
		layers, _ := carve.Reach(ctx, p.Mesh, slabs, carve.Options{})
		trapped := 0.0
		for _, l := range layers {
			trapped += l.Outside.Volume
		}
		fmt.Printf("%d layers: %.0f cm³ trapped\n", len(layers), trapped/1000)
	}
	// Output:
	// 1 layers: 8 cm³ trapped
	// 2 layers: 0 cm³ trapped
}
