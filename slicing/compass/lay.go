package compass

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// turnSteps is how many turns about the stack axis are tried, 5 degrees apart: half a turn makes no difference to a box.
const turnSteps = 36

// A bay is the room on a panel for parts, each with its margin on two sides, mm.
type bay struct{ x, y, margin float64 }

// A box is a part as it lies on the panel, with the margin, mm.
type boxed struct{ x, y float64 }

// fewest is the turn about the stack axis that wants the fewest panels, then the least room, then the least turning; angle is in
// (-π/2, π/2]. hulls are those of each layer's parts from the floor up; a turned layer lies turned by 90 degrees on its
// panel.
func (b bay) fewest(hulls [][]geom.Ring, turned []bool) (angle float64, panels int) {
	room := math.Inf(1)
	for k := range turnSteps {
		a := float64((k+1)/2) * math.Pi / turnSteps // 0, 5, -5, 10, -10 …
		if k%2 == 0 {
			a = -a
		}
		boxes := b.boxes(hulls, turned, a)
		sum := 0.0
		for _, p := range boxes {
			sum += p.x * p.y
		}
		n := b.shelve(boxes)
		if k == 0 || n < panels || n == panels && sum < room*(1-1e-6) {
			angle, panels, room = a, n, sum
		}
	}
	return angle, panels
}

// panels is how many panels the parts want as they are.
func (b bay) panels(hulls [][]geom.Ring, turned []bool) int {
	return b.shelve(b.boxes(hulls, turned, 0))
}

// boxes are the parts' boxes after a turn. A part too large for the panel is sawn into the fewest pieces that fit.
func (b bay) boxes(hulls [][]geom.Ring, turned []bool, angle float64) []boxed {
	s, c := math.Sincos(angle)
	var out []boxed
	for i, layer := range hulls {
		for _, h := range layer {
			x, y := width(h, geom.Vec2{X: c, Y: -s}), width(h, geom.Vec2{X: s, Y: c})
			if turned[i] {
				x, y = y, x
			}
			nx, ny := b.pieces(x, b.x), b.pieces(y, b.y)
			for range nx * ny {
				out = append(out, boxed{x/float64(nx) + b.margin, y/float64(ny) + b.margin})
			}
		}
	}
	return out
}

// mostPieces bounds what a part is sawn into: a panel no wider than the margin holds nothing at all.
const mostPieces = 100

func (b bay) pieces(length, room float64) int {
	free := room - 2*b.margin
	if !(free > 0) {
		return mostPieces
	}
	return min(max(1, int(math.Ceil(length/free-1e-9))), mostPieces)
}

func width(h geom.Ring, along geom.Vec2) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range h {
		v := p.Dot(along)
		low, high = min(low, v), max(high, v)
	}
	return max(high-low, 0)
}

// shelve lays boxes in shelves, the deepest first, each in the first shelf with room, and shelves in the first panel with room
// (first fit by decreasing height: Coffman, Garey, Johnson, Tarjan, SIAM Journal on Computing 9(4), 1980). It gives the number
// of panels, which is a layout that really works, if not the closest.
func (b bay) shelve(boxes []boxed) int {
	slices.SortFunc(boxes, func(p, q boxed) int {
		switch {
		case p.y > q.y || p.y == q.y && p.x > q.x:
			return -1
		case p.y < q.y || p.x < q.x:
			return 1
		}
		return 0
	})
	const slack = 1e-9
	wide, deep := b.x-b.margin+slack, b.y-b.margin+slack
	var shelves, panels []float64 // room left along each
next:
	for _, p := range boxes {
		for i, left := range shelves {
			if p.x <= left {
				shelves[i] -= p.x
				continue next
			}
		}
		shelves = append(shelves, wide-p.x)
		for i, left := range panels {
			if p.y <= left {
				panels[i] -= p.y
				continue next
			}
		}
		panels = append(panels, deep-p.y)
	}
	return len(panels)
}
