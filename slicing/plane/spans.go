package plane

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
)

// A passing is where an edge passes a row: column is the first place right of it or on it, turn what the winding changes by.
type passing struct{ row, column, turn int32 }

// Spans visits the places inside a region on a grid of w by h, row by row, in stretches from a place up to but without
// another; place 0, 0 is at origin.
func Spans(g geom.Region, origin geom.Vec2, step float64, w, h int, visit func(row, from, to int)) {
	sum, from := int32(0), int32(0)
	for _, p := range passings(g, origin, step, w, h) { // of a row they sum to nothing, since rings close
		before := sum
		sum += p.turn
		switch {
		case before <= 0 && sum > 0:
			from = p.column
		case before > 0 && sum <= 0 && p.column > from:
			visit(int(p.row), int(from), int(p.column))
		}
	}
}

// passings are those of all edges, by rows and columns; what lies beside the grid is at its ends.
func passings(g geom.Region, origin geom.Vec2, step float64, w, h int) []passing {
	var out []passing
	for _, r := range g {
		for n, a := range r {
			b, turn := r[(n+1)%len(r)], int32(-1) // right of an edge that rises is outside
			if a.Y > b.Y {
				a, b, turn = b, a, 1 // the same sum whichever way it runs
			}
			end := min(geom.Ceil((b.Y-origin.Y)/step), h)
			for j := max(geom.Ceil((a.Y-origin.Y)/step), 0); j < end; j++ {
				y := origin.Y + float64(j)*step
				x := (a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y) - origin.X) / step
				out = append(out, passing{int32(j), int32(geom.Ceil(min(max(x, 0), float64(w)))), turn})
			}
		}
	}
	slices.SortFunc(out, func(p, q passing) int {
		return cmp.Or(cmp.Compare(p.row, q.row), cmp.Compare(p.column, q.column))
	})
	return out
}

// SetSpan takes in places from up to but without to of row j, as far as the grid has them.
func (m *Mask) SetSpan(j, from, to int) {
	if from, to = max(from, 0), min(to, m.W); j >= 0 && j < m.H && from < to {
		SetBits(m.Row(j), from, to)
	}
}

// SetBits sets the bits from up to but without to of words, the lowest bit of a word first.
func SetBits(words []uint64, from, to int) {
	first, last := from>>6, (to-1)>>6
	low, high := ^uint64(0)<<(from&63), ^uint64(0)>>(63-(to-1)&63)
	if first == last {
		words[first] |= low & high
		return
	}
	words[first] |= low
	for w := first + 1; w < last; w++ {
		words[w] = ^uint64(0)
	}
	words[last] |= high
}
