package arrange_test

import (
	"context"
	"fmt"

	"grainstack/slicing/arrange"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

func ExampleResolve() {
	box := solidtest.Box(100, 100, 100)
	r, err := arrange.Resolve(context.Background(), solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 50, Y: 25})))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d facets touched along %d line; together they hold %.0f mm³.\n", r.Touched, r.Lines, r.Mesh.Volume())
	// Output: 16 facets touched along 1 line; together they hold 1625000 mm³.
}
