package sample_test

import (
	"fmt"

	"grainstack/slicing/sample"
)

func ExampleHare() {
	size := sample.Hare(50_000).Box().Size()
	fmt.Printf("%.0f mm long, %.0f wide, %.0f high\n", size.X, size.Y, size.Z)
	// Output: 419 mm long, 210 wide, 301 high
}
