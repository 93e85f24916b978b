// Package carve says what a router that only comes straight down from above and from below can and can't do with each layer
// of a stack.
//
// It takes a piece as it stands (mm), the layers of the stack, its hollow and the cutters, and gives: for each layer the
// highest and the lowest wood in every column of a regular grid and the air between that no cutter sees (Reach), the places
// where that air lies (Bodies), where the tip of a cutter goes and what it leaves standing (Cuts), and what a maker ought to
// know before the first cut (Task.Check).
//
// Columns come from sorted signed crossings of facets with upright lines: solid is where the running sum is positive, which
// unites shells that overlap. A point on the border of a facet's shadow belongs to it or not by a half-open rule; nothing is
// nudged. The surface that a cutter leaves is the morphological closing of a height map by the cutter's shape (Serra, "Image
// Analysis and Mathematical Morphology", 1982); the surface of its tip is the upper envelope of the turned-over cutter, as in
// Inui, "Fast inverse offset computation using polygon rendering hardware", Computer-Aided Design 35(2), 2003.
//
// Lengths are mm, areas mm², volumes mm³. Heights are those of the stand, Z up, unless a comment says otherwise. Results do
// not depend on the order of facets beyond rounding, nor on the number of cores at all.
package carve
