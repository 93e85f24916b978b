package sheet

import (
	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A StickKept is a place that shall stay whole, by its heights in millimetres.
type StickKept struct {
	Low, High float64
	Crossed   []float64 // heights of the joints that go through it
}

// keptReach is how far a bracket reaches to the side, in drawing units, and keptPen how thick it is.
const (
	keptReach = 4.0
	keptPen   = 1.6
)

// kept draws a bracket at the stick's left edge for each place that shall stay whole, and each joint that goes through one in
// the accent's colour, from the bracket across the piece.
func (t StickSheet) kept(v StickView, s Style, c columns, piece geom.Region) {
	x := c.left + 1
	for _, k := range v.Kept {
		low, high := t.Y(k.Low), t.Y(k.High)
		ink := s.Ink.Ink
		if len(k.Crossed) > 0 {
			ink = s.Ink.Accent
		}
		t.Segments(draw.Pen{Color: s.Ink.Paper, Width: keptPen + 2}, draw.Segment{vec(x, low), vec(x, high)})
		t.Segments(draw.Pen{Color: ink, Width: keptPen},
			draw.Segment{vec(x, low), vec(x, high)},
			draw.Segment{vec(x, low), vec(x+keptReach, low)},
			draw.Segment{vec(x, high), vec(x+keptReach, high)})
		for _, z := range k.Crossed {
			y := t.Y(z)
			t.Segments(draw.Pen{Color: s.Ink.Accent, Width: keptPen}, append(across(piece, y), draw.Segment{vec(x-keptReach, y), vec(x+2*keptReach, y)})...)
		}
	}
}
