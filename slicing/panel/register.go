package panel

import (
	"fmt"
	"math"

	"grainstack/slicing/geom"
)

// An Axis is the centre line of a panel about which it is turned over.
type Axis int

// The centre lines.
const (
	AlongX Axis = iota // through the middle of the ends: Y changes sides
	AlongY             // through the middle of the long edges: X changes sides
)

func (a Axis) String() string {
	if a == AlongY {
		return "about the centre line across the panel"
	}
	return "about the centre line along the panel"
}

// A Register is the two dowels by which every panel is laid and turned over.
type Register struct {
	PanelX, PanelY float64
	Axis           Axis
	Dowels         [2]Dowel
	Depth          float64 // into the bed of the router, below the panel
}

// Seat says where the register dowels sit.
type Seat int

// The seats of register dowels.
const (
	OnCentreLine Seat = iota // one at either end of the turning axis, at unequal distances, so that no panel is laid end for end
	AtOneEnd                 // two at mirrored places beside one end of the panel, out of the way of its middle
)

// Registration places the two register dowels at the same places on every panel, inset from its edges to their middles.
func Registration(panelX, panelY float64, axis Axis, seat Seat, diameter, depth, inset float64) (Register, error) {
	r := Register{PanelX: panelX, PanelY: panelY, Axis: axis, Depth: depth}
	long, wide := panelX, panelY // along and across the axis
	if axis == AlongY {
		long, wide = panelY, panelX
	}
	a, b := geom.Vec2{X: inset, Y: wide / 2}, geom.Vec2{X: long - inset - uneven(diameter), Y: wide / 2}
	if seat == AtOneEnd {
		a, b = geom.Vec2{X: inset, Y: inset}, geom.Vec2{X: inset, Y: wide - inset}
	}
	if axis == AlongY {
		a, b = swapXY(a), swapXY(b)
	}
	r.Dowels = [2]Dowel{{a, diameter}, {b, diameter}}
	return r, r.Check()
}

// uneven is by how much the two dowels on a centre line differ in distance from their ends: a panel laid end for end is off
// by as much, which nobody overlooks.
func uneven(diameter float64) float64 { return math.Max(5, diameter) }

// TurnOver carries a point of side A to where it lies, seen from above, once the panel is turned over; and back again.
func (r Register) TurnOver(p geom.Vec2) geom.Vec2 {
	if r.Axis == AlongY {
		return geom.Vec2{X: r.PanelX - p.X, Y: p.Y}
	}
	return geom.Vec2{X: p.X, Y: r.PanelY - p.Y}
}

// registerFit is how well the dowels of both sides have to match, mm: a hundredth, as the sides of the carving do.
const registerFit = 0.01

// Check says what is wrong: figures that are no sizes, dowels off the panel or into each other, dowels that the turned panel
// does not come to lie on, and dowels on which it could be laid end for end as well.
func (r Register) Check() error {
	for _, v := range []float64{r.PanelX, r.PanelY, r.Depth, r.Dowels[0].Diameter, r.Dowels[1].Diameter} {
		if !(v > 0 && v <= largestPanel) {
			return fmt.Errorf("panel: registration with a size of %g mm: panel, diameter and depth have to be more than 0", v)
		}
	}
	a, b := r.Dowels[0], r.Dowels[1]
	for i, d := range r.Dowels {
		h := d.Diameter / 2
		if !(d.At.X >= h && d.At.Y >= h && d.At.X <= r.PanelX-h && d.At.Y <= r.PanelY-h) {
			return fmt.Errorf("panel: register dowel %d is not wholly on the panel", i+1)
		}
	}
	if a.At.Sub(b.At).Len() < 4*math.Max(a.Diameter, b.Diameter) {
		return fmt.Errorf("panel: the register dowels are %.0f mm apart, too near to hold a panel straight", a.At.Sub(b.At).Len())
	}
	if !r.lands(r.TurnOver, registerFit) {
		return fmt.Errorf("panel: turned %v the panel does not come back onto its register dowels", r.Axis)
	}
	endForEnd := func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: r.PanelX - p.X, Y: r.PanelY - p.Y} }
	if r.lands(endForEnd, 1) {
		return fmt.Errorf("panel: the register dowels let a panel be laid end for end")
	}
	return nil
}

// lands reports whether a panel moved so comes to lie with its holes on the dowels, within a distance.
func (r Register) lands(move func(geom.Vec2) geom.Vec2, within float64) bool {
	a, b := r.Dowels[0], r.Dowels[1]
	p, q := move(a.At), move(b.At)
	return p.Sub(a.At).Len() <= within && q.Sub(b.At).Len() <= within ||
		p.Sub(b.At).Len() <= within && q.Sub(a.At).Len() <= within && a.Diameter == b.Diameter
}
