package book

import (
	"image"
	"image/color"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A page is one sheet of paper: its own drawing, the sheets that are put on it, and pictures below both.
type page struct {
	*draw.Drawing
	section  string // shown in its head
	begins   string // section that begins on it, "" for none
	sheets   []placed
	pictures []picture
}

type placed struct {
	*draw.Drawing
	at    geom.Vec2
	scale float64 // points a drawing unit
}

type picture struct {
	image.Image
	box geom.Box2
}

// Margins, sizes of lettering and distances of lines, in points.
const (
	sideMargin = 48
	topMargin  = 64
	footMargin = 52
	bodySize   = 9.5
	bodyLead   = 13.5
	smallSize  = 8
	headSize   = 21
	sheetScale = 0.75 // sheets are drawn for the screen: finer on paper
	sheetText  = 10.5
)

// A flow is pages that are filled from top to bottom.
type flow struct {
	letters *draw.Letters
	ink     draw.Ink
	w, h    float64
	pages   []*page
	section string
	y       float64 // of what comes next
}

func newFlow(p Paper, l *draw.Letters) flow {
	f := flow{letters: l, ink: draw.LightInk()}
	f.ink.Paper = white
	f.w, f.h = p.Size()
	return f
}

func (f *flow) wide() float64   { return f.w - 2*sideMargin }
func (f *flow) bottom() float64 { return f.h - footMargin }
func (f *flow) left() float64   { return f.bottom() - f.y } // height still free

func (f *flow) page() *page { return f.pages[len(f.pages)-1] }

// turn begins a page of the current section.
func (f *flow) turn() {
	f.pages = append(f.pages, &page{Drawing: draw.New(f.w, f.h, f.ink.Paper), section: f.section})
	f.y = topMargin
}

// begin begins a section on a new page, with its heading.
func (f *flow) begin(section string) {
	f.section = section
	f.turn()
	f.page().begins = section
	f.y += 12
	f.text(draw.Text{At: vec(sideMargin, f.y), Words: section, Size: headSize, Bold: true, Color: f.ink.Ink})
	f.y += 10
	f.page().Segments(draw.Pen{Color: f.ink.Ink, Width: 1.4}, draw.Segment{vec(sideMargin, f.y), vec(sideMargin+36, f.y)})
	f.y += 20
}

// room turns the page where less than so much is free.
func (f *flow) room(height float64) {
	if f.left() < height {
		f.turn()
	}
}

func (f *flow) text(t draw.Text) { f.page().Text(t) }

// head is a small heading that stays with at least so much of what follows.
func (f *flow) head(words string, follows float64) {
	f.room(30 + follows)
	f.y += 16
	f.text(draw.Text{At: vec(sideMargin, f.y), Words: words, Size: 12, Bold: true, Color: f.ink.Ink})
	f.y += 10
}

// paragraph is lines of ordinary lettering from x, so wide.
func (f *flow) paragraph(words string, x, width float64) {
	for _, line := range wrap(f.letters, words, bodySize, false, width) {
		f.room(bodyLead)
		f.y += bodyLead
		f.text(draw.Text{At: vec(x, f.y-3.5), Words: line, Size: bodySize, Color: f.ink.Ink})
	}
}

// bullets are sentences, each behind a short rule.
func (f *flow) bullets(sentences []string, mark bool) {
	pen := draw.Pen{Color: f.ink.Grain, Width: 1.6}
	if mark {
		pen.Color = f.ink.Accent
	}
	for _, s := range sentences {
		f.room(2 * bodyLead)
		y := f.y + bodyLead - 6.5
		f.page().Segments(pen, draw.Segment{vec(sideMargin, y), vec(sideMargin+8, y)})
		f.paragraph(s, sideMargin+16, f.wide()-16)
		f.y += 4
	}
}

// put places a sheet in a box of the page; make draws it at the size it is given in drawing units.
func (f *flow) put(b geom.Box2, make func(w, h float64) *draw.Drawing) {
	size := b.Size()
	d := make(size.X/sheetScale, size.Y/sheetScale)
	p := f.page()
	p.sheets = append(p.sheets, placed{d, b.Min, sheetScale})
}

func vec(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

func box(x0, y0, x1, y1 float64) geom.Box2 { return geom.Box2{Min: vec(x0, y0), Max: vec(x1, y1)} }

var white = color.RGBA{255, 255, 255, 255}

// rule is a hair line across the page.
func (f *flow) rule(c color.RGBA, width float64) {
	f.page().Segments(draw.Pen{Color: c, Width: width}, draw.Segment{vec(sideMargin, f.y), vec(sideMargin+f.wide(), f.y)})
}

// small is one line of small faint lettering, made smaller rather than cut.
func (f *flow) small(words string, x, y, wide float64) {
	size := float64(smallSize)
	for size > 5 && f.letters.Width(words, size, false) > wide {
		size -= 0.25
	}
	f.text(draw.Text{At: vec(x, y), Words: words, Size: size, Color: f.ink.Faint})
}
