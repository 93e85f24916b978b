package mesh_test

import (
	"fmt"

	"grainstack/slicing/mesh"
)

func Example() {
	m, raw, err := mesh.Open("../../testdata/torus-hole.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	f := mesh.Inspect(m, m.Adjacency())
	fmt.Printf("%s, %d facets, %d points, %.0f x %.0f x %.0f\n", raw.Format, f.Triangles, f.Points, f.Size.X, f.Size.Y, f.Size.Z)
	fmt.Println("solid:", f.Solid())
	for _, s := range f.Sentences(1) {
		fmt.Println(s)
	}
	// Output:
	// binary STL, 2300 facets, 1152 points, 104 x 104 x 24
	// solid: false
	// The surface has a hole; its edge runs 26 mm.
}
