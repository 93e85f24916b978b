package book

import (
	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A column of a table: its share of the width, and which way it is ranged.
type column struct {
	name  string
	share float64
	align draw.Align
}

// tick and write are cells that are filled in by hand: a box to tick, a line to write on.
const (
	tick  = "\x00tick"
	write = "\x00write"
)

// table draws rows below a line of names; rows do not break over pages, and the names are set again on each.
func (m *maker) table(columns []column, rows [][]string) {
	m.room(70)
	m.names(columns)
	for _, row := range rows {
		cells := make([][]string, len(columns))
		lines := 1
		for i, c := range columns {
			if i < len(row) && row[i] != tick && row[i] != write {
				cells[i] = wrap(m.letters, row[i], bodySize, false, m.share(columns, c)-8)
				lines = max(lines, len(cells[i]))
			}
		}
		high := float64(lines)*bodyLead + 7
		if m.left() < high {
			m.turn()
			m.names(columns)
		}
		m.row(columns, row, cells, high)
	}
	m.y += 6
}

func (m *maker) share(columns []column, c column) float64 {
	sum := 0.0
	for _, k := range columns {
		sum += k.share
	}
	return m.wide() * c.share / sum
}

func (m *maker) names(columns []column) {
	m.y += 14
	x := float64(sideMargin)
	for _, c := range columns {
		wide := m.share(columns, c)
		m.text(draw.Text{At: ranged(x, wide, m.y, c.align), Words: c.name, Size: smallSize, Color: m.ink.Faint, Align: c.align})
		x += wide
	}
	m.y += 5
	m.rule(m.ink.Ink, 0.8)
}

func (m *maker) row(columns []column, row []string, cells [][]string, high float64) {
	x := float64(sideMargin)
	base := m.y + bodyLead
	for i, c := range columns {
		wide := m.share(columns, c)
		if i < len(row) {
			switch row[i] {
			case tick:
				m.tickBox(vec(x, m.y+high/2))
			case write:
				m.writeLine(x+6, x+wide-4, m.y+high-5)
			}
		}
		for k, line := range cells[i] {
			at := ranged(x, wide, base+float64(k)*bodyLead, c.align)
			m.text(draw.Text{At: at, Words: line, Size: bodySize, Color: m.ink.Ink, Align: c.align})
		}
		x += wide
	}
	m.y += high
	m.rule(m.ink.Rule, 0.5)
}

// ranged is where lettering of a column begins, or ends.
func ranged(x, wide, y float64, a draw.Align) geom.Vec2 {
	switch a {
	case draw.Right:
		return vec(x+wide-8, y)
	case draw.Centre:
		return vec(x+wide/2, y)
	}
	return vec(x, y)
}

// tickBox is a box to tick, its left edge's middle at a point.
func (m *maker) tickBox(at geom.Vec2) {
	const side = 10
	ring := draw.BoxRing(box(at.X, at.Y-side/2, at.X+side, at.Y+side/2))
	m.page().Outline(draw.Pen{Color: m.ink.Ink, Width: 0.9}, geom.Region{ring})
}

// writeLine is a line to write on.
func (m *maker) writeLine(x0, x1, y float64) {
	m.page().Segments(draw.Pen{Color: m.ink.Faint, Width: 0.7}, draw.Segment{vec(x0, y), vec(x1, y)})
}
