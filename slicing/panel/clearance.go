package panel

import "grainstack/slicing/plane"

// clearances gives for each cell of a mask, column by column, the squared distance, in cells, from its middle to the middle
// of the nearest cell that is not marked; cells beyond the mask are not.
func clearances(m *mask) []int32 {
	marked := make([]bool, m.columns*m.rows)
	for i := range m.columns {
		col := m.column(i)
		for j := range m.rows {
			marked[i*m.rows+j] = col[j>>6]>>(j&63)&1 == 1
		}
	}
	return plane.Distances(m.rows, m.columns, func(k int) bool { return !marked[k] }, true)
}
