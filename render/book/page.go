package book

import (
	"image"
	"image/color"

	"grainstack/render/draw"
	"grainstack/render/sheet"
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

// A maker lays pages out from top to bottom.
type maker struct {
	book     Book
	letters  *draw.Letters
	ink      draw.Ink
	w, h     float64
	pages    []*page
	section  string
	y        float64 // of what comes next
	coverEnd float64 // where the cover's figures end
}

func newMaker(b Book, l *draw.Letters) *maker {
	m := &maker{book: b, letters: l, ink: draw.LightInk()}
	m.ink.Paper = white
	m.w, m.h = b.Paper.Size()
	return m
}

// style is how sheets are drawn on paper.
func (m *maker) style() sheet.Style {
	return sheet.Style{Ink: m.ink, Letters: m.letters, Text: sheetText, Units: m.book.Units}
}

func (m *maker) wide() float64   { return m.w - 2*sideMargin }
func (m *maker) bottom() float64 { return m.h - footMargin }
func (m *maker) left() float64   { return m.bottom() - m.y } // height still free

func (m *maker) page() *page { return m.pages[len(m.pages)-1] }

// turn begins a page of the current section.
func (m *maker) turn() {
	m.pages = append(m.pages, &page{Drawing: draw.New(m.w, m.h, m.ink.Paper), section: m.section})
	m.y = topMargin
}

// begin begins a section on a new page, with its heading.
func (m *maker) begin(section string) {
	m.section = section
	m.turn()
	m.page().begins = section
	m.y += 12
	m.text(draw.Text{At: vec(sideMargin, m.y), Words: section, Size: headSize, Bold: true, Color: m.ink.Ink})
	m.y += 10
	m.page().Segments(draw.Pen{Color: m.ink.Ink, Width: 1.4}, draw.Segment{vec(sideMargin, m.y), vec(sideMargin+36, m.y)})
	m.y += 20
}

// room turns the page where less than so much is free.
func (m *maker) room(height float64) {
	if m.left() < height {
		m.turn()
	}
}

func (m *maker) text(t draw.Text) { m.page().Text(t) }

// head is a small heading that stays with at least so much of what follows.
func (m *maker) head(words string, follows float64) {
	m.room(30 + follows)
	m.y += 16
	m.text(draw.Text{At: vec(sideMargin, m.y), Words: words, Size: 12, Bold: true, Color: m.ink.Ink})
	m.y += 10
}

// paragraph is lines of ordinary lettering from x, so wide.
func (m *maker) paragraph(words string, x, width float64) {
	for _, line := range wrap(m.letters, words, bodySize, false, width) {
		m.room(bodyLead)
		m.y += bodyLead
		m.text(draw.Text{At: vec(x, m.y-3.5), Words: line, Size: bodySize, Color: m.ink.Ink})
	}
}

// bullets are sentences, each behind a short rule.
func (m *maker) bullets(sentences []string, mark bool) {
	pen := draw.Pen{Color: m.ink.Grain, Width: 1.6}
	if mark {
		pen.Color = m.ink.Accent
	}
	for _, s := range sentences {
		m.room(2 * bodyLead)
		y := m.y + bodyLead - 6.5
		m.page().Segments(pen, draw.Segment{vec(sideMargin, y), vec(sideMargin+8, y)})
		m.paragraph(s, sideMargin+16, m.wide()-16)
		m.y += 4
	}
}

// put places a sheet in a box of the page; make draws it at the size it is given in drawing units.
func (m *maker) put(b geom.Box2, make func(w, h float64) *draw.Drawing) {
	size := b.Size()
	d := make(size.X/sheetScale, size.Y/sheetScale)
	p := m.page()
	p.sheets = append(p.sheets, placed{d, b.Min, sheetScale})
}

func vec(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

func box(x0, y0, x1, y1 float64) geom.Box2 { return geom.Box2{Min: vec(x0, y0), Max: vec(x1, y1)} }

var white = color.RGBA{255, 255, 255, 255}

// rule is a hair line across the page.
func (m *maker) rule(c color.RGBA, width float64) {
	m.page().Segments(draw.Pen{Color: c, Width: width}, draw.Segment{vec(sideMargin, m.y), vec(sideMargin+m.wide(), m.y)})
}
