package program

import (
	"math"

	"grainstack/slicing/geom"
)

// A Turn is how a move goes, seen from above.
type Turn int8

// The turns, by the side that they go round to.
const (
	Straight         Turn = 0
	CounterClockwise Turn = 1
	Clockwise        Turn = -1
)

// A Move goes from where the last one ended to a place of the tip: straight, or round a middle, rising or falling evenly. An arc
// that ends where it begins is a full turn.
type Move struct {
	To        geom.Vec
	FeedMmMin float64 // 0 for a rapid, which is straight
	Turn      Turn
	Middle    geom.Vec2 // of an arc
}

// Rapid reports whether the move goes as fast as the machine can, and so must not cut.
func (m Move) Rapid() bool { return m.FeedMmMin == 0 }

// Straightened are moves from a place with chords in place of arcs, no further off them than so many mm.
func Straightened(from geom.Vec, moves []Move, off float64) []Move {
	out := make([]Move, 0, len(moves))
	for _, m := range moves {
		if m.Turn == Straight {
			out = append(out, m)
		} else {
			out = m.chords(out, from, off)
		}
		from = m.To
	}
	return out
}

// chords are appended for an arc from a place.
func (m Move) chords(out []Move, from geom.Vec, off float64) []Move {
	r := math.Hypot(from.X-m.Middle.X, from.Y-m.Middle.Y)
	first := math.Atan2(from.Y-m.Middle.Y, from.X-m.Middle.X)
	all := sweptBy(first, math.Atan2(m.To.Y-m.Middle.Y, m.To.X-m.Middle.X), m.Turn)
	n := max(1, math.Ceil(math.Abs(all)/(2*math.Acos(max(1-off/max(r, off), 0)))))
	for k := 1.0; k < n; k++ {
		sin, cos := math.Sincos(first + all*k/n)
		to := geom.Vec{X: m.Middle.X + r*cos, Y: m.Middle.Y + r*sin, Z: from.Z + (m.To.Z-from.Z)*k/n}
		out = append(out, Move{To: to, FeedMmMin: m.FeedMmMin})
	}
	return append(out, Move{To: m.To, FeedMmMin: m.FeedMmMin})
}

// sweptBy is the angle of a turn from one bearing to another, in radians; a full turn where they are the same.
func sweptBy(from, to float64, t Turn) float64 {
	all := math.Mod(float64(t)*(to-from), 2*math.Pi)
	if all < 1e-9 {
		all += 2 * math.Pi
	}
	return float64(t) * all
}
