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
func (f *flow) table(columns []column, rows [][]string) {
	f.room(70)
	f.names(columns)
	for _, row := range rows {
		cells := make([][]string, len(columns))
		lines := 1
		for i, c := range columns {
			if i < len(row) && row[i] != tick && row[i] != write {
				cells[i] = wrap(f.letters, row[i], bodySize, false, f.share(columns, c)-8)
				lines = max(lines, len(cells[i]))
			}
		}
		high := float64(lines)*bodyLead + 7
		if f.left() < high {
			f.turn()
			f.names(columns)
		}
		f.row(columns, row, cells, high)
	}
	f.y += 6
}

func (f *flow) share(columns []column, c column) float64 {
	sum := 0.0
	for _, k := range columns {
		sum += k.share
	}
	return f.wide() * c.share / sum
}

func (f *flow) names(columns []column) {
	f.y += 14
	x := float64(sideMargin)
	for _, c := range columns {
		wide := f.share(columns, c)
		f.text(draw.Text{At: ranged(x, wide, f.y, c.align), Words: c.name, Size: smallSize, Color: f.ink.Faint, Align: c.align})
		x += wide
	}
	f.y += 5
	f.rule(f.ink.Ink, 0.8)
}

func (f *flow) row(columns []column, row []string, cells [][]string, high float64) {
	x := float64(sideMargin)
	base := f.y + bodyLead
	for i, c := range columns {
		wide := f.share(columns, c)
		if i < len(row) {
			switch row[i] {
			case tick:
				f.tickBox(vec(x, f.y+high/2))
			case write:
				f.writeLine(x+6, x+wide-4, f.y+high-5)
			}
		}
		for k, line := range cells[i] {
			at := ranged(x, wide, base+float64(k)*bodyLead, c.align)
			f.text(draw.Text{At: at, Words: line, Size: bodySize, Color: f.ink.Ink, Align: c.align})
		}
		x += wide
	}
	f.y += high
	f.rule(f.ink.Rule, 0.5)
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
func (f *flow) tickBox(at geom.Vec2) {
	const side = 10
	ring := draw.BoxRing(box(at.X, at.Y-side/2, at.X+side, at.Y+side/2))
	f.page().Outline(draw.Pen{Color: f.ink.Ink, Width: 0.9}, geom.Region{ring})
}

// writeLine is a line to write on.
func (f *flow) writeLine(x0, x1, y float64) {
	f.page().Segments(draw.Pen{Color: f.ink.Faint, Width: 0.7}, draw.Segment{vec(x0, y), vec(x1, y)})
}
