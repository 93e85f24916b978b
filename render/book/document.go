package book

import (
	"fmt"
	"io"
	"io/fs"

	"grainstack/render/draw"
	"grainstack/render/sheet"
)

// A Document is a work book, laid out.
type Document struct {
	title string
	pages []*page
	made  *draw.Letters
}

// Lay lays a book out. The same book gives the same pages.
func Lay(b Book, l *draw.Letters) Document {
	m := &maker{flow: newFlow(b.Paper, l), book: b}
	m.cover()
	m.firstPage()
	m.trials()
	m.boards()
	m.panels()
	m.layers()
	m.glueUp()
	m.finish()
	m.furnish()
	return Document{b.Title, m.pages, l}
}

// mm is a point in millimetres.
const mm = 25.4 / 72

// Write writes the document as PDF; fonts has what draw.LoadLetters reads.
func (d Document) Write(w io.Writer, fonts fs.FS) error {
	p, err := draw.NewPDF(d.made, fonts, d.title)
	if err != nil {
		return fmt.Errorf("book: %w", err)
	}
	for _, page := range d.pages {
		p.Page(page.W*mm, page.H*mm)
		if page.begins != "" {
			p.Mark(page.begins, 0)
		}
		for _, g := range page.pictures {
			b := g.box
			b.Min, b.Max = b.Min.Scale(mm), b.Max.Scale(mm)
			p.Picture(g.Image, b)
		}
		p.Place(page.Drawing, vec(0, 0), mm)
		for _, s := range page.sheets {
			p.Place(s.Drawing, s.at.Scale(mm), s.scale*mm)
		}
	}
	if err := p.Write(w); err != nil {
		return fmt.Errorf("book: %w", err)
	}
	return nil
}

// A maker sets a book's sections on its pages.
type maker struct {
	flow
	book     Book
	coverEnd float64 // where the cover's figures end
}

// style is how sheets are drawn on paper.
func (m *maker) style() sheet.Style {
	return sheet.Style{Ink: m.ink, Letters: m.letters, Text: sheetText, Units: m.book.Units}
}

// furnish gives every page but the cover its head and foot.
func (m *maker) furnish() {
	m.contents()
	for i, p := range m.pages {
		if i == 0 {
			continue
		}
		y := float64(topMargin - 26)
		right := m.letters.Width(p.section, smallSize, false)
		title := wrap(m.letters, m.book.Title, smallSize, true, m.wide()-right-20)
		if len(title) > 0 {
			p.Text(draw.Text{At: vec(sideMargin, y), Words: title[0], Size: smallSize, Bold: true, Color: m.ink.Faint})
		}
		p.Text(draw.Text{At: vec(m.w-sideMargin, y), Words: p.section, Size: smallSize, Color: m.ink.Faint, Align: draw.Right})
		p.Segments(draw.Pen{Color: m.ink.Rule, Width: 0.6}, draw.Segment{vec(sideMargin, y+7), vec(m.w-sideMargin, y+7)})
		foot := m.h - 26
		p.Text(draw.Text{At: vec(m.w-sideMargin, foot), Words: fmt.Sprintf("%d / %d", i+1, len(m.pages)), Size: smallSize, Color: m.ink.Faint, Align: draw.Right})
		if m.book.Date != "" {
			p.Text(draw.Text{At: vec(sideMargin, foot), Words: m.book.Date, Size: smallSize, Color: m.ink.Faint})
		}
	}
}
