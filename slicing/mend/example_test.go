package mend_test

import (
	"context"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/solidtest"
)

func ExampleMend() {
	scan := solidtest.Join(solidtest.Sphere(50, 3000), solidtest.Moved(solidtest.Sphere(2, 500), geom.Vec{X: 80}))
	scan.Triangles = scan.Triangles[1:] // a facet is missing
	r, err := mend.Mend(context.Background(), scan, scan.Adjacency(), mend.Settings{MmPerUnit: 1}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range r.Actions {
		fmt.Println(a.Text)
	}
	// Output:
	// One loose bit of debris was left out. It measured 32.5 mm³ and lay at x 80.0, y 0.0, z 0.0 mm of the scan.
	// One hole was filled flush with the surface.
}
