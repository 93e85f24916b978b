package plane

import (
	"sort"

	"grainstack/slicing/geom"
)

// Pieces divides a region into its connected pieces: each an outline followed by the holes directly inside it. The
// pieces come in the order of their outlines. Rings that touch are kept apart; a hole outside all outlines, and a ring of no
// area, belong to no piece.
func Pieces(g geom.Region) []geom.Region {
	var pieces []geom.Region
	piece := make(map[int]int) // outline -> piece
	owners := Nest(g)
	for i := range g {
		if owners[i] == i {
			piece[i] = len(pieces)
			pieces = append(pieces, geom.Region{g[i]})
		}
	}
	for i, o := range owners {
		if o >= 0 && o != i {
			pieces[piece[o]] = append(pieces[piece[o]], g[i])
		}
	}
	return pieces
}

// Nest gives for each ring the outline of its piece: an outline its own, a hole the smallest outline round it, -1 for none.
func Nest(g geom.Region) []int {
	owners := make([]int, len(g))
	areas := make([]float64, len(g))
	var outlines []int
	holes := false
	for i, r := range g {
		areas[i] = r.Area()
		owners[i] = -1
		if areas[i] > 0 {
			owners[i] = i
			outlines = append(outlines, i)
		} else if areas[i] < 0 {
			holes = true
		}
	}
	if !holes {
		return owners
	}
	sort.SliceStable(outlines, func(i, j int) bool { return areas[outlines[i]] < areas[outlines[j]] })
	boxes := make([]geom.Box2, len(g))
	for _, o := range outlines {
		boxes[o] = g[o].Box()
	}
	for i, r := range g {
		if areas[i] >= 0 {
			continue
		}
		box := r.Box()
		for _, o := range outlines {
			if -areas[i] < areas[o] && covers(boxes[o], box) && mostlyIn(r, g[o]) {
				owners[i] = o
				break
			}
		}
	}
	return owners
}

func covers(outer, inner geom.Box2) bool {
	return outer.Min.X <= inner.Min.X && outer.Min.Y <= inner.Min.Y &&
		outer.Max.X >= inner.Max.X && outer.Max.Y >= inner.Max.Y
}

// mostlyIn reports whether a ring that does not cross the outline lies inside it. One point would do but for rings that
// touch, where a point on the outline may count either way: so three, spread over the ring, vote.
func mostlyIn(r, outline geom.Ring) bool {
	votes := 0
	for k := range 3 {
		i := k * len(r) / 3
		middle := r[i].Add(r[(i+1)%len(r)]).Scale(0.5)
		if outline.Winding(middle) > 0 {
			votes++
		}
	}
	return votes >= 2
}
