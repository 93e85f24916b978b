package panel

import "grainstack/slicing/plane"

// clearances gives for each cell of a mask, column by column, the squared distance, in cells, from its middle to the middle
// of the nearest cell that is not marked; cells beyond the mask are not.
func clearances(m *mask) []int32 {
	return plane.Distances(m.W, m.H, func(k int) bool { return !m.Has(k%m.W, k/m.W) }, true)
}
