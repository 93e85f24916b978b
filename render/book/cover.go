package book

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// cover is the finished look, the job's name and its ticket.
func (m *maker) cover() {
	m.section = ""
	m.turn()
	m.y = 40
	m.look(m.h * 0.5)
	m.y += 40
	size := 30.0
	lines := wrap(m.letters, m.book.Title, size, true, m.wide())
	for len(lines) > 2 && size > 14 {
		size--
		lines = wrap(m.letters, m.book.Title, size, true, m.wide())
	}
	for _, line := range lines {
		m.text(draw.Text{At: vec(sideMargin, m.y), Words: line, Size: size, Bold: true, Color: m.ink.Ink})
		m.y += size * 1.15
	}
	m.y -= size*1.15 - 18
	for _, line := range wrap(m.letters, m.book.Subtitle, 11, false, m.wide()) {
		m.text(draw.Text{At: vec(sideMargin, m.y), Words: line, Size: 11, Color: m.ink.Faint})
		m.y += 15
	}
	m.ticket()
	m.coverEnd = m.h
	if len(m.pages) == 1 {
		m.coverEnd = m.y
	}
	last := "Work book"
	if m.book.Date != "" {
		last += " · " + m.book.Date
	}
	m.pages[0].Text(draw.Text{At: vec(sideMargin, m.h-26), Words: last, Size: smallSize, Color: m.ink.Faint})
}

// contents are the sections with their pages, at the foot of the cover, where there is room.
func (m *maker) contents() {
	type entry struct {
		words string
		page  int
	}
	var all []entry
	for i, p := range m.pages {
		if p.begins != "" {
			all = append(all, entry{p.begins, i + 1})
		}
	}
	const usual, tight = 17.0, 13.0 // from line to line; closer where there is little room
	cover := m.pages[0]
	lead := max(tight, min(usual, (m.h-46-m.coverEnd-30)/float64(max(1, len(all)-1))))
	y := m.h - 46 - lead*float64(len(all)-1)
	if len(all) == 0 || y < m.coverEnd+30 {
		return
	}
	right := sideMargin + m.wide()/2 - 10
	for _, e := range all {
		cover.Text(draw.Text{At: vec(sideMargin, y), Words: e.words, Size: bodySize, Color: m.ink.Ink})
		cover.Text(draw.Text{At: vec(right, y), Words: fmt.Sprint(e.page), Size: bodySize, Color: m.ink.Ink, Align: draw.Right})
		from, to := sideMargin+m.letters.Width(e.words, bodySize, false)+6, right-20.0
		cover.Segments(draw.Pen{Color: m.ink.Rule, Width: 0.9, Dash: []float64{0, 4}}, draw.Segment{vec(from, y-1), vec(to, y-1)})
		y += lead
	}
}

// look is the picture, as large as it goes into the upper part of the page.
func (m *maker) look(high float64) {
	if m.book.Look == nil {
		m.y += 60
		return
	}
	r := m.book.Look.Bounds()
	room := box(sideMargin, m.y, m.w-sideMargin, m.y+high)
	size := room.Size()
	scale := min(size.X/float64(max(r.Dx(), 1)), size.Y/float64(max(r.Dy(), 1)))
	w, h := float64(r.Dx())*scale, float64(r.Dy())*scale
	b := box(m.w/2-w/2, room.Min.Y, m.w/2+w/2, room.Min.Y+h)
	m.page().pictures = append(m.page().pictures, picture{m.book.Look, b})
	m.page().Outline(draw.Pen{Color: m.ink.Rule, Width: 0.7}, geom.Region{draw.BoxRing(b)})
	m.y += h
}

// ticketColumns is how many figures stand side by side.
const ticketColumns = 4

// ticket is the totals as large quiet figures. What finds no room on the cover goes on after it.
func (m *maker) ticket() {
	if len(m.book.Ticket) == 0 {
		return
	}
	wide := m.wide() / ticketColumns
	m.y += 6
	for i, e := range m.book.Ticket {
		if i%ticketColumns == 0 {
			if m.left() < 52 {
				m.section = "Ticket"
				m.turn()
			}
			m.rule(m.ink.Rule, 0.6)
			m.y += 52
		}
		x, y := sideMargin+float64(i%ticketColumns)*wide, m.y-52
		m.small(e.Name, x, y+15, wide-10)
		size := 16.0
		for size > 7 && m.letters.Width(e.Value, size, true) > wide-10 {
			size -= 0.5
		}
		m.text(draw.Text{At: vec(x, y+33), Words: e.Value, Size: size, Bold: true, Color: m.ink.Ink})
		m.small(e.Note, x, y+45, wide-10)
	}
}
