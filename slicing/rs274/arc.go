package rs274

import (
	"math"

	"grainstack/slicing/geom"
)

const (
	// chordOff is how far the chords of an arc lie off it at the most, mm.
	chordOff = 0.001
	// widestArc is the largest radius, mm: beyond it a hair in the middle moves the arc far.
	widestArc = 1000.0
	// mostChords bounds what the arcs of a program come to.
	mostChords = 1 << 23
	// oddRadius is how much the radius may differ between an arc's ends, in its file's units: NISTIR 6556, section 3.5.3.2.
	oddRadiusMM, oddRadiusInch = 0.002, 0.0002
)

// arc goes round in the plane of X and Y: the middle lies by I and J from where the arc begins. It comes as chords.
func (m *machine) arc(b *block, move Move) string {
	if !b.has[wordX] && !b.has[wordY] {
		return "it is an arc that names neither X nor Y"
	}
	if !b.has[wordI] && !b.has[wordJ] {
		return "it is an arc without a middle (I or J)"
	}
	from, to := move.From, move.To
	middle := geom.Vec2{X: from.X + b.value[wordI]*m.unit, Y: from.Y + b.value[wordJ]*m.unit}
	r, end := math.Hypot(from.X-middle.X, from.Y-middle.Y), math.Hypot(to.X-middle.X, to.Y-middle.Y)
	odd := oddRadiusMM
	if m.unit > 1 {
		odd = oddRadiusInch * m.unit
	}
	switch {
	case !(r > 0) || r > widestArc:
		return "it is an arc whose middle is where it begins, or too far off"
	case math.Abs(end-r) > odd+1e-9:
		return "it is an arc that ends nearer to its middle than it begins, or further off"
	}
	first := math.Atan2(from.Y-middle.Y, from.X-middle.X)
	all := math.Mod(math.Atan2(to.Y-middle.Y, to.X-middle.X)-first, 2*math.Pi)
	if to.X == from.X && to.Y == from.Y {
		all = 0 // all round
	}
	switch {
	case m.motion == clockwise && all >= 0:
		all -= 2 * math.Pi
	case m.motion == counterClockwise && all <= 0:
		all += 2 * math.Pi
	}
	n := max(1, math.Ceil(math.Abs(all)/(2*math.Acos(max(1-chordOff/r, 0)))))
	if m.chords += int(n); m.chords > mostChords {
		return "the program has more arcs than can be looked at"
	}
	for k := 1.0; k <= n; k++ {
		share := k / n
		sin, cos := math.Sincos(first + all*share)
		wide := r + (end-r)*share
		move.From, move.To = m.at, geom.Vec{X: middle.X + wide*cos, Y: middle.Y + wide*sin, Z: from.Z + (to.Z-from.Z)*share}
		if k == n {
			move.To = to
		}
		m.goes(move)
	}
	return ""
}
