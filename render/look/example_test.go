package look_test

import (
	"context"
	"fmt"
	"image"
	"math"

	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// A box of 100 mm, cut away at its third joint and seen from straight above: the middle of the picture shows the cut face.
func ExampleRenderer_Pick() {
	r := look.NewRenderer()
	err := r.Raster(context.Background(), look.NewBody(solidtest.Box(100, 100, 100)), look.View{
		Camera:    look.Camera{Elevation: math.Pi / 2, Zoom: 1},
		Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1},
		Height:    100,
		Size:      image.Pt(200, 200),
		Cut:       48,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	hit, ok := r.Pick(100, 100)
	fmt.Printf("wood %v, cut face %v, at %.0f mm\n", ok, hit.Face, hit.Point.Z)
	// Output: wood true, cut face true, at 48 mm
}
