package panel

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// errNoSplit is what SplitPart says of a line that leaves the part whole.
var errNoSplit = errors.New("panel: the joint line does not cross the part")

// SplitPart parts a region along the line through a and b: left of it, seen from a to b, and right of it. A point on the
// line counts as left. The two share their new edges point for point and their areas sum to the region's. The rings of the
// region do not cross each other. It fails where the line is no line or misses the region.
func SplitPart(g geom.Region, a, b geom.Vec2) (left, right geom.Region, err error) {
	way := b.Sub(a)
	if n := way.Len(); !(n > 0) || !finite(n) {
		return nil, nil, errors.New("panel: a joint line needs two different points")
	}
	way = way.Scale(1 / way.Len())
	left, right = half(g, a, way, false), half(g, a, way, true)
	if len(left) == 0 || len(right) == 0 {
		return nil, nil, errNoSplit
	}
	return left, right, nil
}

// A crossing is where a chain of points on one side meets the line.
type crossing struct {
	along float64 // how far along the line
	chain int
	start bool // the chain starts here, else it ends here
}

// half is the part of a region on one side: each ring is cut into chains, and each end of a chain is joined to its neighbour
// on the line, which starts the next.
func half(g geom.Region, o, way geom.Vec2, right bool) geom.Region {
	var out geom.Region
	var chains []geom.Ring
	for _, r := range g {
		whole, parts := cutRing(r, o, way, right)
		if whole {
			out = append(out, r)
		}
		chains = append(chains, parts...)
	}
	var marks []crossing
	for i, c := range chains {
		marks = append(marks,
			crossing{c[0].Sub(o).Dot(way), i, true},
			crossing{c[len(c)-1].Sub(o).Dot(way), i, false})
	}
	slices.SortStableFunc(marks, func(p, q crossing) int { return cmp.Compare(p.along, q.along) })
	return append(out, joinChains(chains, marks, right)...)
}

// joinChains walks from the end of each chain to the start beside it. With the solid on the left of its outline, the left
// half's boundary runs along the line forwards and the right half's backwards: from an end to the next start that way.
func joinChains(chains []geom.Ring, marks []crossing, right bool) (out geom.Region) {
	next := make([]int, len(chains))
	var open []int // ends that wait for a start
	for k := range marks {
		m := marks[k]
		if right {
			m = marks[len(marks)-1-k]
		}
		if !m.start {
			open = append(open, m.chain)
		} else if len(open) > 0 {
			next[open[len(open)-1]] = m.chain + 1
			open = open[:len(open)-1]
		} else {
			// ends that rounding has put behind their start are met here: the start waits for the next end
			open = append(open, -m.chain-1)
		}
		if n := len(open); n > 1 && open[n-2] < 0 && open[n-1] >= 0 {
			next[open[n-1]] = -open[n-2]
			open = open[:n-2]
		}
	}
	used := make([]bool, len(chains))
	for i := range chains {
		var ring geom.Ring
		for k := i; !used[k]; k = next[k] - 1 {
			used[k] = true
			ring = append(ring, chains[k]...)
			if next[k] == 0 {
				break
			}
		}
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// cutRing gives the chains of a ring on one side, each from the line to the line; whole says that all of it lies there.
func cutRing(r geom.Ring, o, way geom.Vec2, right bool) (whole bool, chains []geom.Ring) {
	n := len(r)
	side := func(i int) float64 {
		d := way.Cross(r[i%n].Sub(o))
		if math.Abs(d) < onLine {
			return 0
		}
		return d
	}
	in := func(i int) bool { return (side(i) >= 0) != right }
	first := -1
	for i := range n {
		if !in(i) && in(i+1) {
			first = i
			break
		}
	}
	if first < 0 {
		return n > 0 && in(0), nil
	}
	var chain geom.Ring
	for i := first; i < first+n; i++ {
		here, there := in(i), in(i+1)
		if here && (len(chain) == 0 || r[i%n] != chain[len(chain)-1]) {
			chain = append(chain, r[i%n])
		}
		if here == there {
			continue
		}
		p := meet(r[i%n], r[(i+1)%n], side(i), side(i+1))
		if there {
			chain = geom.Ring{p}
			continue
		}
		if p != chain[len(chain)-1] {
			chain = append(chain, p)
		}
		chains = append(chains, chain)
	}
	return false, chains
}

// onLine is how near to the line a point counts as on it, mm: far below what can be cut, far above rounding.
const onLine = 1e-9

// meet is where an edge meets the line. It does not matter from which end the edge is looked at.
func meet(a, b geom.Vec2, da, db float64) geom.Vec2 {
	if a.X > b.X || a.X == b.X && a.Y > b.Y {
		a, b, da, db = b, a, db, da
	}
	if db == 0 {
		return b
	}
	t := da / (da - db)
	return geom.Vec2{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
}
