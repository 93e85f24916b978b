package boxtree_test

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

func ExampleTree_Nearest() {
	t, err := boxtree.New(context.Background(), solidtest.Box(100, 100, 100))
	if err != nil {
		fmt.Println(err)
		return
	}
	_, at, d2 := t.Nearest(geom.Vec{X: 40, Y: 130, Z: 70}, math.Inf(1))
	fmt.Printf("%.0f mm away, at %v\n", math.Sqrt(d2), at)
	// Output: 30 mm away, at {40 100 70}
}
