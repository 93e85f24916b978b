package export_test

import (
	"context"
	"fmt"
	"os"

	"grainstack/slicing/export"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

// A block of 100 × 80 × 48 mm in layers of 16 mm: three solids of the same size.
func Example() {
	ctx := context.Background()
	c, err := stock.Load(os.DirFS("../../assets"), "stock.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	s := job.Default(c)
	s.Hold, s.Wall = job.HoldSkim, 0
	s = s.WithLayer(c, 16)
	st, err := job.Stand(ctx, job.NewPiece("block", solidtest.Box(100, 80, 48), mesh.Raw{}), s.Stand())
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := job.Instant(ctx, st, s, c)
	if err != nil {
		fmt.Println(err)
		return
	}
	solids, err := export.LayerSolids(ctx, st, f, []int{1, 2, 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, m := range solids {
		box := m.Box()
		fmt.Printf("layer %d: from %.0f to %.0f mm, %.0f cm³\n", i+1, box.Min.Z, box.Max.Z, m.Volume()/1000)
	}
	// Output:
	// layer 1: from 0 to 16 mm, 128 cm³
	// layer 2: from 16 to 32 mm, 128 cm³
	// layer 3: from 32 to 48 mm, 128 cm³
}
