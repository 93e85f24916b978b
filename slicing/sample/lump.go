package sample

import (
	"math"

	"grainstack/slicing/geom"
)

// A lump is one piece of clay: the hull of two balls, in a frame that may be stretched along its axes. Balls that share
// their centre make an ellipsoid.
type lump struct {
	at       geom.Vec    // centre of the first ball
	rows     [3]geom.Vec // from the world, seen from at, to the lump's own frame
	long     float64     // from the first ball's centre to the second's, along X of the own frame
	r0, r1   float64     // radii of the balls in the own frame
	sin, cos float64     // slope of the hull
	blend    float64     // width over which it flows into the clay that is there, mm
	cut      bool        // taken away instead of put on
	plain    bool        // the own frame is not stretched
	deep     float64     // depth from which on the distance is no longer followed, mm
	steep    float64     // the most that the distance changes per mm: never more than the stretch, as the tests sample
}

// distance is how far p is from the lump's skin, negative inside: exact for an unstretched lump, to first order
// and never less than -deep for a stretched one. slope is its direction of steepest growth, of length 1, exact on the skin.
func (l *lump) distance(p geom.Vec) (d float64, slope geom.Vec) {
	d, n := l.own(p)
	if l.plain {
		return d, l.world(n)
	}
	slope = l.world(n)
	f := 1 / slope.Len()
	return max(d*f, -l.deep), slope.Scale(f)
}

// far is distance without the slope.
func (l *lump) far(p geom.Vec) float64 {
	d, n := l.own(p)
	if l.plain {
		return d
	}
	return max(d/l.world(n).Len(), -l.deep)
}

// own is the distance and its slope in the own frame.
func (l *lump) own(p geom.Vec) (d float64, slope geom.Vec) {
	v := p.Sub(l.at)
	x, y, z := l.rows[0].Dot(v), l.rows[1].Dot(v), l.rows[2].Dot(v)
	r, square := l.r0, y*y+z*z
	if l.long > 0 {
		off := math.Sqrt(square)
		foot := x*l.cos - off*l.sin // where the hull's normal through p leaves the axis, times cos
		switch end := l.long * l.cos; {
		case foot >= end:
			x, r = x-l.long, l.r1
		case foot > 0:
			f := l.cos / math.Max(off, 1e-12)
			return x*l.sin + off*l.cos - l.r0, geom.Vec{X: l.sin, Y: f * y, Z: f * z}
		}
	}
	n := math.Sqrt(x*x + square)
	if n < 1e-12 {
		return -r, geom.Vec{X: 1}
	}
	f := 1 / n
	return n - r, geom.Vec{X: f * x, Y: f * y, Z: f * z}
}

// world takes a slope from the own frame to the world.
func (l *lump) world(n geom.Vec) geom.Vec {
	a, b, c := &l.rows[0], &l.rows[1], &l.rows[2]
	return geom.Vec{X: n.X*a.X + n.Y*b.X + n.Z*c.X, Y: n.X*a.Y + n.Y*b.Y + n.Z*c.Y, Z: n.X*a.Z + n.Y*b.Z + n.Z*c.Z}
}

// box holds the lump.
func (l *lump) box() geom.Box {
	b := geom.EmptyBox()
	for _, ball := range [2]struct{ x, r float64 }{{0, l.r0}, {l.long, l.r1}} {
		centre, reach := l.at, geom.Vec{}
		for i, row := range l.rows {
			unit := row.Scale(1 / row.Dot(row)) // a step of 1 in the own frame
			if i == 0 {
				centre = centre.Add(unit.Scale(ball.x))
			}
			reach = reach.Add(geom.Vec{X: unit.X * unit.X, Y: unit.Y * unit.Y, Z: unit.Z * unit.Z})
		}
		r := geom.Vec{X: math.Sqrt(reach.X), Y: math.Sqrt(reach.Y), Z: math.Sqrt(reach.Z)}.Scale(ball.r)
		b = b.Add(centre.Add(r)).Add(centre.Sub(r))
	}
	return b
}

// limb is a round cone from ball a to ball b, flattened across the direction flat to thin times its width (1 = round).
func limb(a, b geom.Vec, ra, rb float64, flat geom.Vec, thin, blend float64) lump {
	axis := b.Sub(a)
	x := axis.Unit()
	z := flat.Sub(x.Scale(flat.Dot(x))).Unit()
	l := lump{at: a, rows: [3]geom.Vec{x, z.Cross(x), z.Scale(1 / thin)}, long: axis.Len(), r0: ra, r1: rb, blend: blend}
	l.sin = (ra - rb) / l.long
	l.cos = math.Sqrt(1 - l.sin*l.sin)
	l.plain, l.deep, l.steep = thin == 1, deepest*thin*min(ra, rb), 1/thin
	return l
}

// egg is an ellipsoid with the given half axes, turned about Y by pitch (nose down positive), then about Z by yaw, in
// degrees.
func egg(at, half geom.Vec, pitch, yaw, blend float64) lump {
	t := geom.TurnXYZ(0, pitch, yaw)
	return plate(at, t.Apply(geom.Vec{X: 1}), t.Apply(geom.Vec{Z: 1}), half, blend)
}

// plate is an ellipsoid with its first half axis along one direction and its last along another, square to the first.
func plate(at, along, face, half geom.Vec, blend float64) lump {
	rows := [3]geom.Vec{along.Scale(1 / half.X), face.Cross(along).Scale(1 / half.Y), face.Scale(1 / half.Z)}
	most, least := max(half.X, half.Y, half.Z), min(half.X, half.Y, half.Z)
	return lump{at: at, rows: rows, r0: 1, r1: 1, cos: 1, blend: blend, deep: deepest * least, steep: most / least}
}

// deepest is how far into a lump its distance is followed, as a part of its least half axis: to first order it goes wrong
// towards the middle.
const deepest = 0.8

// away makes the lump one that is taken away.
func (l lump) away() lump {
	l.cut = true
	return l
}

// mirrored is the lump on the other side of the plane y = 0.
func (l lump) mirrored() lump {
	l.at.Y = -l.at.Y
	for i := range l.rows {
		l.rows[i].Y = -l.rows[i].Y
	}
	return l
}

// turned is the lump turned about the pivot.
func (l lump) turned(t geom.Turn, pivot geom.Vec) lump {
	l.at = pivot.Add(t.Apply(l.at.Sub(pivot)))
	for i := range l.rows {
		l.rows[i] = t.Apply(l.rows[i])
	}
	return l
}
