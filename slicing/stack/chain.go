package stack

import (
	"slices"

	"grainstack/slicing/geom"
)

const (
	// joinGap is the widest break in an outline that is bridged by a straight line: what filler hides on a carved piece.
	joinGap = 2.0 // mm
	// mostChains bounds the search: a section in more pieces is that of loose triangles, and no outline.
	mostChains = 1024
)

// A bridge leads from the end of one chain to the start of another, or of the same.
type bridge struct {
	from, to int
	length   float64
}

// joinChains closes open lines: end to start, the shortest bridge first, while it is no longer than joinGap. Chains that do
// not come to be part of a closed ring are left out.
func joinChains(chains []line, points []geom.Vec2) []geom.Ring {
	if len(chains) == 0 || len(chains) > mostChains {
		return nil
	}
	next := make([]int, len(chains))
	taken := make([]bool, len(chains))
	for i := range next {
		next[i] = -1
	}
	for _, b := range bridges(chains, points) {
		if next[b.from] < 0 && !taken[b.to] {
			next[b.from], taken[b.to] = b.to, true
		}
	}
	var rings []geom.Ring
	done := make([]bool, len(chains))
	for i := range chains {
		if r := closeFrom(i, next, done, chains, points); r != nil {
			rings = append(rings, r)
		}
	}
	return rings
}

// closeFrom is the ring that chain i is part of, nil where there is none or it has been had.
func closeFrom(i int, next []int, done []bool, chains []line, points []geom.Vec2) geom.Ring {
	for c := i; ; {
		if done[c] {
			return nil
		}
		if c = next[c]; c < 0 {
			return nil
		}
		if c == i {
			break
		}
	}
	var r geom.Ring
	for c := i; !done[c]; c = next[c] {
		r = append(r, points[chains[c].from:chains[c].to]...)
		done[c] = true
	}
	return r
}

// bridges are all that are short enough, the shortest first.
func bridges(chains []line, points []geom.Vec2) []bridge {
	starts := make([]int, len(chains))
	for i := range starts {
		starts[i] = i
	}
	at := func(i int) geom.Vec2 { return points[chains[i].from] }
	slices.SortStableFunc(starts, func(i, j int) int { return compare(at(i).X, at(j).X) })
	var out []bridge
	for i, c := range chains {
		end := points[c.to-1]
		k, _ := slices.BinarySearchFunc(starts, end.X-joinGap, func(j int, x float64) int { return compare(at(j).X, x) })
		for ; k < len(starts) && at(starts[k]).X <= end.X+joinGap; k++ {
			if d := at(starts[k]).Sub(end).Len(); d <= joinGap {
				out = append(out, bridge{i, starts[k], d})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b bridge) int { return compare(a.length, b.length) })
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
