package draw

import (
	"image/color"

	"grainstack/slicing/geom"
)

// A Pen draws lines: its width and its dashes (line, gap, line, gap …) are in drawing units. No dashes: a whole line. A
// dash of length zero is a round dot.
type Pen struct {
	Color color.RGBA
	Width float64
	Dash  []float64
}

// A Line is a run of points; a closed one returns to its first.
type Line struct {
	Points []geom.Vec2
	Closed bool
}

// A Segment is a straight line between two points.
type Segment [2]geom.Vec2

// Align says which end of a text stands at its place.
type Align int

const (
	Left Align = iota
	Centre
	Right
)

// A Text is one line of lettering. At is on its base line, at the end or in the middle as Align says.
type Text struct {
	At    geom.Vec2
	Words string
	Size  float64 // drawing units per em
	Bold  bool
	Color color.RGBA
	Align Align
	Up    bool // reads from below upwards, as on the left of a sheet
}

// A Backend puts a drawing's items down in the order in which they were drawn.
type Backend interface {
	Fill(r geom.Region, c color.RGBA)
	Lines(p Pen, lines []Line)
	Segments(p Pen, segs []Segment)
	Text(t Text)
}

// A Drawing is a list of items on a sheet of W × H drawing units. It keeps the slices that it is given: do not write to
// them afterwards.
type Drawing struct {
	W, H  float64
	Paper color.RGBA
	items []item
	clip  geom.Box2
}

type item struct {
	fill  geom.Region
	lines []Line
	segs  []Segment
	pen   Pen // its colour is that of the fill, too
	text  *Text
}

// New is an empty sheet.
func New(w, h float64, paper color.RGBA) *Drawing {
	d := &Drawing{W: w, H: h, Paper: paper}
	d.Unclip()
	return d
}

// Clip keeps fills and lines drawn from now on inside box; lettering is put down whole where its place is inside.
func (d *Drawing) Clip(box geom.Box2) { d.clip = box }

// Unclip lets items go up to the sheet's edge again.
func (d *Drawing) Unclip() { d.clip = geom.Box2{Max: geom.Vec2{X: d.W, Y: d.H}} }

// Fill covers a region with one colour.
func (d *Drawing) Fill(r geom.Region, c color.RGBA) {
	if r = clipRegion(r, d.clip); len(r) > 0 {
		d.items = append(d.items, item{fill: r, pen: Pen{Color: c}})
	}
}

// Rect covers a box with one colour.
func (d *Drawing) Rect(b geom.Box2, c color.RGBA) { d.Fill(geom.Region{BoxRing(b)}, c) }

// Lines draws runs of points with one pen.
func (d *Drawing) Lines(p Pen, lines ...Line) {
	if lines = clipLines(lines, d.clip); len(lines) > 0 {
		d.items = append(d.items, item{lines: lines, pen: p})
	}
}

// Outline draws a region's rings.
func (d *Drawing) Outline(p Pen, r geom.Region) {
	lines := make([]Line, len(r))
	for i, ring := range r {
		lines[i] = Line{ring, true}
	}
	d.Lines(p, lines...)
}

// Segments draws straight lines with one pen.
func (d *Drawing) Segments(p Pen, segs ...Segment) {
	if segs = clipSegments(segs, d.clip); len(segs) > 0 {
		d.items = append(d.items, item{segs: segs, pen: p})
	}
}

// Text puts a line of lettering down; empty words and places outside the clip are left out.
func (d *Drawing) Text(t Text) {
	if t.Words != "" && inBox(t.At, d.clip) {
		d.items = append(d.items, item{text: &t})
	}
}

// Play gives every item to b, in order.
func (d *Drawing) Play(b Backend) {
	for _, it := range d.items {
		switch {
		case it.fill != nil:
			b.Fill(it.fill, it.pen.Color)
		case it.lines != nil:
			b.Lines(it.pen, it.lines)
		case it.segs != nil:
			b.Segments(it.pen, it.segs)
		case it.text != nil:
			b.Text(*it.text)
		}
	}
}

// BoxRing is the outline of a box.
func BoxRing(b geom.Box2) geom.Ring {
	return geom.Ring{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
}
