package edit

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// A Line is a joint line in the hand on the layer sheet.
type Line struct {
	Held  bool
	Split job.Split
	ends  [2]bool // which of its ends go with the hand
	last  geom.Vec2
}

// TakeLine takes one of the joint lines of a layer, or an end of it, into the hand at a place of the stand; the sheet shows so
// many units of the screen a mm.
func TakeLine(all []job.Split, p geom.Vec2, perMM float64) (Line, bool) {
	if perMM <= 0 {
		return Line{}, false
	}
	near := nearBy / perMM
	for _, s := range all {
		ends := [2]bool{p.Sub(s.A).Len() < 1.4*near, p.Sub(s.B).Len() < 1.4*near}
		way := s.B.Sub(s.A)
		if n := way.Len(); !ends[0] && !ends[1] && n > 0 && math.Abs(way.Cross(p.Sub(s.A)))/n < near {
			ends = [2]bool{true, true}
		}
		if ends[0] || ends[1] {
			return Line{Held: true, Split: s, ends: ends, last: p}, true
		}
	}
	return Line{}, false
}

// Carry moves it with the hand.
func (l *Line) Carry(p geom.Vec2) {
	by := p.Sub(l.last)
	l.last = p
	if l.ends[0] {
		l.Split.A = l.Split.A.Add(by)
	}
	if l.ends[1] {
		l.Split.B = l.Split.B.Add(by)
	}
}

// Apart reports whether its ends lie apart, mm: else it splits nothing.
func (l *Line) Apart() bool { return l.Split.A.Sub(l.Split.B).Len() >= 1 }

// Seams are the joint lines of a layer as they are drawn, that in the hand where it is held.
func (l *Line) Seams(all []job.Split) (out [][2]geom.Vec2) {
	for _, s := range all {
		if l.Held && s.Part == l.Split.Part {
			s = l.Split
		}
		out = append(out, [2]geom.Vec2{s.A, s.B})
	}
	return out
}
