package field_test

import (
	"context"
	"fmt"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// A ball of 100 mm, hollowed to a wall of 8 mm, keeps two fifths of its wood.
func Example() {
	ball := solidtest.Sphere(50, 100_000)
	grid, err := field.Build(context.Background(), ball, 128, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	stand := geom.Placement{Turn: geom.NoTurn(), Scale: 1, Shift: geom.Vec{Z: 50}}
	table, err := field.NewTable(context.Background(), grid, stand, 100)
	if err != nil {
		fmt.Println(err)
		return
	}
	core := table.CoreVolume(0, 100, 8)
	fmt.Printf("core %.0f cm³ of %.0f cm³\n", core/1000, ball.Volume()/1000)
	outline := grid.CoreSection(stand, 50, 8, 1)
	rim, _ := field.NarrowestRim(outline, grid.CoreSection(stand, 50, 0, 1))
	fmt.Printf("%d outline, rim %.1f mm\n", len(outline), rim.Width)
	// Output:
	// core 310 cm³ of 524 cm³
	// 1 outline, rim 8.0 mm
}
