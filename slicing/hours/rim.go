package hours

import "math"

// A rim is an edge at which rows leave the wood: a layer's outline, or the opening of its core.
type rim struct {
	around float64 // length of the edge of the opening that goes through
	out    float64 // whole turns that the edge makes round wood: how much longer it grows outwards, in 2π; 0 for a hole
	room   float64 // area of the opening; endless round the outside
	slope  float64 // area of the surface between the face and the edge, seen from this side
	rows   float64 // row measure of that surface
	deep   float64 // the edge below the face
}

// rims are the edges of the upper and the lower side.
func (l Layer) rims() (up, down []rim) {
	slopeUp, slopeDown := l.slopes()
	up = []rim{l.outer(l.Up, slopeUp, slopeDown)}
	down = []rim{l.outer(l.Down, slopeDown, slopeUp)}
	if l.Core.Straight || !(l.Up.Core > 0 || l.Down.Core > 0) {
		return up, down
	}
	return append(up, l.inner(l.Up, l.Down, true)), append(down, l.inner(l.Down, l.Up, false))
}

func (l Layer) outer(here Side, slope, other float64) rim {
	return rim{around: l.Perimeter, out: float64(max(l.Parts, 1)), room: math.Inf(1), slope: slope, rows: here.Rows,
		deep: l.Thickness * depthShare(slope, other)}
}

func (l Layer) inner(here, there Side, up bool) rim {
	through := min(here.Core, there.Core)
	r := rim{room: through, slope: here.Core - through, rows: l.coreRows(up)}
	r.around = l.Core.Perimeter * math.Sqrt(through/max(here.Core, there.Core))
	r.deep = l.Thickness * depthShare(r.slope, there.Core-through)
	return r
}

// slopes are the areas, seen from above, of the outer surface that faces up and of that which faces down. What they differ
// by is known, since each with its joint face covers the same; how large they are follows from their row measures. A slope
// that covers W and falls by d all along an outline of length P, alike everywhere, has the row measure √(W² + (2Pd/π)²); the
// two depths together are the thickness. The side with the smaller measure is found so, the other from it. Nothing is less
// than the layer's outline shows.
func (l Layer) slopes() (up, down float64) {
	fall := 2 * l.Perimeter / math.Pi
	covers := func(rows, deep float64) float64 { return math.Sqrt(max(rows*rows-fall*fall*deep*deep, 0)) }
	low, high := 0.0, l.Thickness // depth of the upper slope
	for range depthSteps {
		d := (low + high) / 2
		if l.Up.Section+covers(l.Up.Rows, d) > l.Down.Section+covers(l.Down.Rows, l.Thickness-d) {
			low = d
		} else {
			high = d
		}
	}
	if l.Up.Rows < l.Down.Rows {
		up = covers(l.Up.Rows, low)
		down = up + l.Up.Section - l.Down.Section
	} else {
		down = covers(l.Down.Rows, l.Thickness-high)
		up = down + l.Down.Section - l.Up.Section
	}
	return max(up, l.Outline-l.Up.Section, 0), max(down, l.Outline-l.Down.Section, 0)
}

// depthSteps halve the thickness down to a thousandth.
const depthSteps = 10

// depthShare is the part of the thickness that lies on this side of an edge, from the areas of the slopes on both sides. A
// surface is upright where it is widest and bends away from there with the square root of the height, so the depths are as
// the roots of the areas; without slopes the sides share.
func depthShare(here, there float64) float64 {
	a, b := math.Sqrt(here), math.Sqrt(there)
	if !(a+b > 0) {
		return 0.5
	}
	return a / (a + b)
}

// floor is the area beside the edge that an axis goes over which may go so far from the wood, and the length of the border
// of that area.
func (r rim) floor(reach float64) (area, border float64) {
	turn := 2 * math.Pi * r.out
	area = r.around*reach + turn/2*reach*reach
	if area >= r.room {
		return r.room, 0 // gone over from edge to edge
	}
	return area, r.around + turn*reach
}

// crossings is how many times rows so far apart cross the edge.
func (r rim) crossings(over float64) float64 { return 2 * r.around / (math.Pi * over) }
