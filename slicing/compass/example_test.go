package compass_test

import (
	"context"
	"fmt"
	"os"

	"grainstack/slicing/compass"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

// A rod of 200 mm stands in its file; lying it has the fewest layers.
func Example() {
	c, err := stock.Load(os.DirFS("../../assets"), "stock.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	s := job.Default(c)
	s.Wall = 0
	rod := job.NewPiece("rod", solidtest.Frustum(15, 15, 200, 48), mesh.Raw{})
	m, err := compass.Search(context.Background(), rod, s, c, compass.Options{Count: 12}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := compass.Weights{}.With("layers=1")
	if err != nil {
		fmt.Println(err)
		return
	}
	best, _ := m.Best(w)
	lean, _ := compass.Lean(m.Bearings[best].Up)
	fmt.Printf("as it stands %d layers, at the best %d, leaning %.0f°\n", m.Bearings[0].Layers, m.Bearings[best].Layers, lean)
	// Output: as it stands 13 layers, at the best 2, leaning 90°
}
