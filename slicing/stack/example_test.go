package stack_test

import (
	"context"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

func Example() {
	ctx := context.Background()
	piece := solidtest.Box(2, 3, 1.5) // in inches, say
	placed, err := stack.Place(ctx, piece, stack.Stand{Turn: geom.NoTurn(), Scale: 25.4})
	if err != nil {
		panic(err)
	}
	profile, err := stack.NewProfile(ctx, placed.Mesh)
	if err != nil {
		panic(err)
	}
	slabs, err := stack.Layers(placed.Box.Max.Z, 16, 16)
	if err != nil {
		panic(err)
	}
	for _, s := range slabs {
		fmt.Printf("layer %d: %.1f mm of wood, %.1f cm³\n", s.Number, s.Thickness(), profile.Volume(s.Bottom, s.Top)/1000)
	}
	rest, err := stack.Remainder(placed.Box.Max.Z, 16, 16)
	if err != nil {
		panic(err)
	}
	fmt.Printf("whole with %d layers at %.1f %%\n", rest.MoreLayers, 100*rest.More)
	// Output:
	// layer 1: 16.0 mm of wood, 61.9 cm³
	// layer 2: 16.0 mm of wood, 61.9 cm³
	// layer 3: 6.1 mm of wood, 23.6 cm³
	// whole with 3 layers at 126.0 %
}
