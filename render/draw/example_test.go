package draw_test

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

func ExampleHatch() {
	board := geom.Region{{{X: 0, Y: 0}, {X: 600, Y: 0}, {X: 600, Y: 300}, {X: 0, Y: 300}}}
	for _, l := range draw.Hatch(board, geom.Vec2{X: 1}, 100, geom.Vec2{}) {
		fmt.Printf("row %d from %g to %g\n", l.Row, l.Segment[0].X, l.Segment[1].X)
	}
	// Output:
	// row 0 from 0 to 600
	// row 1 from 0 to 600
	// row 2 from 0 to 600
}
