package stack

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// SplitRegion divides a region into its connected pieces.
func SplitRegion(g geom.Region) []geom.Region { return plane.Pieces(g) }
