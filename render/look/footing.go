package look

import (
	"math"

	"grainstack/slicing/geom"
)

// A footing is where floor and plinth are.
type footing struct {
	kind   Ground
	low    float64   // mm: height of the floor, below 0 where there is a plinth
	from   geom.Vec2 // corners of the plinth
	to     geom.Vec2
	radius float64 // mm, of the piece
}

// lowestView is the least slope of a view down on the floor from which the floor is drawn.
const lowestView = 0.02

// foot finds the ground for a view.
func (v *View) foot(b *Body, l *lens) footing {
	f := footing{kind: v.Ground, radius: max(b.radius*v.Placement.Scale, 1e-6)}
	f.low = -v.plinth(f.radius)
	if l.ahead.Z > -lowestView {
		f.kind = OnPaper
	}
	if f.kind != OnPlinth {
		return f
	}
	box := geom.EmptyBox()
	for _, q := range b.spread {
		if p := v.Placement.Apply(q.Vec()); p.Z < plinthFoot*v.Height {
			box = box.Add(p)
		}
	}
	if box.Empty() {
		f.kind = OnFloor
		return f
	}
	room := plinthRoom * f.radius
	f.from = geom.Vec2{X: box.Min.X - room, Y: box.Min.Y - room}
	f.to = geom.Vec2{X: box.Max.X + room, Y: box.Max.Y + room}
	return f
}

// A groundSpot is what a ray that misses the piece meets.
type groundSpot struct {
	p    geom.Vec
	n    vec
	part groundPart
}

type groundPart uint8

const (
	theFloor groundPart = iota
	plinthTop
	plinthSide
)

// meet follows the ray through a pixel position to floor or plinth.
func (f *footing) meet(l *lens, x, y float64) groundSpot {
	p := l.point(x, y, 0)
	p = p.Add(l.ahead.Scale(-p.Z / l.ahead.Z))
	up := vec{z: 1}
	if f.kind != OnPlinth {
		return groundSpot{p, up, theFloor}
	}
	if p.X >= f.from.X && p.X <= f.to.X && p.Y >= f.from.Y && p.Y <= f.to.Y {
		return groundSpot{p, up, plinthTop}
	}
	// The ray comes in through the side that it meets last, if it is inside the other two by then.
	floor := f.low / l.ahead.Z
	tx, nx := into(p.X, l.ahead.X, f.from.X, f.to.X)
	ty, ny := into(p.Y, l.ahead.Y, f.from.Y, f.to.Y)
	t, n := tx, vec{x: nx}
	if ty > tx {
		t, n = ty, vec{y: ny}
	}
	if t > 0 && t < floor {
		q := p.Add(l.ahead.Scale(t))
		const slack = 1e-9
		if q.X >= f.from.X-slack && q.X <= f.to.X+slack && q.Y >= f.from.Y-slack && q.Y <= f.to.Y+slack {
			return groundSpot{q, n, plinthSide}
		}
	}
	return groundSpot{p.Add(l.ahead.Scale(floor)), up, theFloor}
}

// into is how far along a ray it comes into the span from..to, and the normal's sign of the side where it does.
func into(at, step, from, to float64) (t float64, n float32) {
	switch {
	case step > 1e-12:
		return (from - at) / step, -1
	case step < -1e-12:
		return (to - at) / step, 1
	case at >= from && at <= to:
		return math.Inf(-1), 1
	}
	return math.Inf(1), 1
}

// Plinth is the block that the piece stands on in a view; ok is false where there is none.
func (v View) Plinth(b *Body) (block geom.Box, ok bool) {
	l := newLens(b, &v, Strip{})
	f := v.foot(b, &l)
	return geom.Box{Min: geom.Vec{X: f.from.X, Y: f.from.Y, Z: f.low}, Max: geom.Vec{X: f.to.X, Y: f.to.Y}}, f.kind == OnPlinth
}
