package compass

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
)

// turnSteps is how many turns about the stack axis are tried, 5 degrees apart: half a turn makes no difference to a box.
const turnSteps = 36

// holdFrame is what is left of the panel between parts, mm. A layout has no such frame at first, but where that leaves parts
// without a hold it is laid anew with a wider one, on a panel more if need be; with this one the panels that are counted are
// most often those that are laid.
const holdFrame = 5.0

// A bay is the room on a panel for parts.
type bay struct{ panel.Rules }

// A boxed is a part's box as it lies on the panel, with the margin, mm.
type boxed struct{ x, y float64 }

// straightest is the turn about the stack axis that wants the fewest panels for the parts' boxes in rows, then the least room,
// then the least turning, of so many turns; angle is in (-π/2, π/2].
func (b bay) straightest(parts []panel.Part, turns int) (angle float64, rows int) {
	hulls := make([]geom.Ring, len(parts))
	for i, p := range parts {
		hulls[i] = plane.Hull(slices.Concat(p.Shadow...))
	}
	room := math.Inf(1)
	for k := range turns {
		a := float64((k+1)/2) * math.Pi / turnSteps // 0, 5, -5, 10, -10 …
		if k%2 == 0 {
			a = -a
		}
		boxes := b.boxes(hulls, parts, a)
		sum := 0.0
		for _, p := range boxes {
			sum += p.x * p.y
		}
		n := b.shelve(boxes)
		if k == 0 || n < rows || n == rows && sum < room*(1-1e-6) {
			angle, rows, room = a, n, sum
		}
	}
	return angle, rows
}

// boxes are the boxes of the parts, of which the hulls are given, after a turn.
func (b bay) boxes(hulls []geom.Ring, parts []panel.Part, angle float64) []boxed {
	s, c := math.Sincos(angle)
	var out []boxed
	for i, h := range hulls {
		x, y := width(h, geom.Vec2{X: c, Y: -s}), width(h, geom.Vec2{X: s, Y: c})
		if parts[i].Turned {
			x, y = y, x
		}
		nx, ny := b.pieces(x, b.PanelX), b.pieces(y, b.PanelY)
		for range nx * ny {
			out = append(out, boxed{x/float64(nx) + b.Margin, y/float64(ny) + b.Margin})
		}
	}
	return out
}

// mostPieces bounds what a part is sawn into: a panel no wider than the margin holds nothing at all.
const mostPieces = 100

// pieces is into how many a length is sawn that is too long for a panel.
func (b bay) pieces(length, panel float64) int {
	free := panel - 2*b.Edge
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
	slices.SortFunc(boxes, func(p, q boxed) int { return cmp.Or(cmp.Compare(q.y, p.y), cmp.Compare(q.x, p.x)) })
	const slack = 1e-9
	wide, deep := b.PanelX-2*b.Edge+b.Margin+slack, b.PanelY-2*b.Edge+b.Margin+slack
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

// lay is the turn about the stack axis, of so many, for the fewest panels, and how many those are.
func (b bay) lay(ctx context.Context, parts []panel.Part, turns int) (angle float64, panels int, err error) {
	angle, panels = b.straightest(parts, turns)
	if panels > b.fewest(parts) || slices.ContainsFunc(parts, func(p panel.Part) bool { return p.Board != parts[0].Board }) {
		panels, err = b.nest(ctx, parts, angle)
	}
	return angle, panels, err
}

// fewest is how many panels the parts' area alone takes: boxes in rows that take no more need no nesting.
func (b bay) fewest(parts []panel.Part) int {
	area := 0.0
	for _, p := range parts {
		area += p.Shadow.Area()
	}
	return max(1, int(math.Ceil(area/max((b.PanelX-2*b.Edge)*(b.PanelY-2*b.Edge), 1))))
}

// nest is how many panels the parts take after a turn, nested by their outlines.
func (b bay) nest(ctx context.Context, parts []panel.Part, angle float64) (panels int, err error) {
	bench, err := panel.NewBench(ctx, b.sawn(parts, angle), b.Rules)
	if err != nil {
		return 0, err
	}
	return bench.Count(ctx, panel.CountSteps)
}

// sawn are the parts after a turn. One that is too large for the panel is sawn into the fewest pieces that fit, each in its box.
func (b bay) sawn(parts []panel.Part, angle float64) (out []panel.Part) {
	s, c := math.Sincos(angle)
	for _, p := range parts {
		p.Shadow = p.Shadow.Map(func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.X*c - v.Y*s, Y: v.X*s + v.Y*c} })
		box := p.Shadow.Box()
		size := box.Size()
		roomX, roomY := b.PanelX, b.PanelY
		if p.Turned {
			roomX, roomY = roomY, roomX
		}
		nx, ny := b.pieces(size.X, roomX), b.pieces(size.Y, roomY)
		if nx*ny > 1 {
			x, y := size.X/float64(nx), size.Y/float64(ny)
			p.Shadow = geom.Region{{box.Min, box.Min.Add(geom.Vec2{X: x}), box.Min.Add(geom.Vec2{X: x, Y: y}), box.Min.Add(geom.Vec2{Y: y})}}
		}
		for range nx * ny {
			p.ID.Part = len(out) // a number of its own
			out = append(out, p)
		}
	}
	return out
}
