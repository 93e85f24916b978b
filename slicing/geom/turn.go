package geom

import "math"

// A Turn is a rotation of space, as a matrix whose rows are applied to column vectors. The zero value is no rotation at
// all: start from NoTurn.
type Turn [3][3]float64

// NoTurn leaves everything as it is.
func NoTurn() Turn { return Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} }

// TurnXYZ turns about the fixed X axis, then the fixed Y axis, then the fixed Z axis, by degrees, each counter-clockwise
// when its axis points at the viewer. Multiples of 90 degrees are exact.
func TurnXYZ(xDeg, yDeg, zDeg float64) Turn {
	sx, cx := sincosDeg(xDeg)
	sy, cy := sincosDeg(yDeg)
	sz, cz := sincosDeg(zDeg)
	x := Turn{{1, 0, 0}, {0, cx, -sx}, {0, sx, cx}}
	y := Turn{{cy, 0, sy}, {0, 1, 0}, {-sy, 0, cy}}
	z := Turn{{cz, -sz, 0}, {sz, cz, 0}, {0, 0, 1}}
	return x.Then(y).Then(z)
}

// TurnTo is the shortest turn that brings direction from onto direction to. Opposite directions turn half round about an
// axis square to both; a zero vector gives NoTurn.
func TurnTo(from, to Vec) Turn {
	f, t := from.Unit(), to.Unit()
	if f == (Vec{}) || t == (Vec{}) {
		return NoTurn()
	}
	c := f.Dot(t)
	axis := f.Cross(t)
	if s := axis.Len(); s > 1e-12 {
		return TurnAbout(axis, math.Atan2(s, c))
	}
	if c > 0 {
		return NoTurn()
	}
	square := f.Cross(Vec{1, 0, 0})
	if square.Len() < 0.1 {
		square = f.Cross(Vec{0, 1, 0})
	}
	return TurnAbout(square, math.Pi)
}

// TurnAbout turns by an angle in radians about an axis through the origin (Rodrigues' rotation formula).
func TurnAbout(axis Vec, angle float64) Turn {
	u := axis.Unit()
	s, c := math.Sincos(angle)
	k := 1 - c
	return Turn{
		{c + u.X*u.X*k, u.X*u.Y*k - u.Z*s, u.X*u.Z*k + u.Y*s},
		{u.Y*u.X*k + u.Z*s, c + u.Y*u.Y*k, u.Y*u.Z*k - u.X*s},
		{u.Z*u.X*k - u.Y*s, u.Z*u.Y*k + u.X*s, c + u.Z*u.Z*k},
	}
}

// Apply turns v.
func (t Turn) Apply(v Vec) Vec {
	return Vec{
		t[0][0]*v.X + t[0][1]*v.Y + t[0][2]*v.Z,
		t[1][0]*v.X + t[1][1]*v.Y + t[1][2]*v.Z,
		t[2][0]*v.X + t[2][1]*v.Y + t[2][2]*v.Z,
	}
}

// Then is the turn that does t first and next after it.
func (t Turn) Then(next Turn) Turn {
	var out Turn
	for i := range 3 {
		for j := range 3 {
			out[i][j] = next[i][0]*t[0][j] + next[i][1]*t[1][j] + next[i][2]*t[2][j]
		}
	}
	return out
}

// Inverse undoes t.
func (t Turn) Inverse() Turn {
	var out Turn
	for i := range 3 {
		for j := range 3 {
			out[i][j] = t[j][i]
		}
	}
	return out
}

// Degrees are the angles that TurnXYZ needs to make t again: x and z in (-180, 180], y in [-90, 90]. Where y is ±90 the
// split between x and z is not unique and z is 0.
func (t Turn) Degrees() (x, y, z float64) {
	const deg = 180 / math.Pi
	sy := -t[2][0]
	if math.Abs(sy) > 1-1e-12 {
		y = math.Copysign(90, sy)
		x = math.Atan2(math.Copysign(1, sy)*t[0][1], t[1][1]) * deg
		return x, y, 0
	}
	return math.Atan2(t[2][1], t[2][2]) * deg, math.Asin(sy) * deg, math.Atan2(t[1][0], t[0][0]) * deg
}

// sincosDeg is exact at multiples of 90 degrees, where math.Sincos of the radians is not.
func sincosDeg(deg float64) (sin, cos float64) {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * math.Pi / 180)
}

// A Placement carries a piece from its own frame to where it stands: turned, scaled, then moved.
type Placement struct {
	Turn  Turn
	Scale float64 // mm per unit of the piece's own frame, > 0
	Shift Vec     // mm, added last
}

// Apply carries a point of the piece's own frame to the stand.
func (p Placement) Apply(v Vec) Vec { return p.Turn.Apply(v).Scale(p.Scale).Add(p.Shift) }

// Back carries a point of the stand to the piece's own frame.
func (p Placement) Back(v Vec) Vec { return p.Turn.Inverse().Apply(v.Sub(p.Shift)).Scale(1 / p.Scale) }

// Then is the placement that does p first and next after it.
func (p Placement) Then(next Placement) Placement {
	return Placement{Turn: p.Turn.Then(next.Turn), Scale: p.Scale * next.Scale, Shift: next.Apply(p.Shift)}
}

// Inverse undoes p.
func (p Placement) Inverse() Placement {
	t := p.Turn.Inverse()
	return Placement{Turn: t, Scale: 1 / p.Scale, Shift: t.Apply(p.Shift).Scale(-1 / p.Scale)}
}

// NoPlacement leaves everything where it is.
func NoPlacement() Placement { return Placement{Turn: NoTurn(), Scale: 1} }
