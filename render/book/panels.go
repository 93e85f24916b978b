package book

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// panels is one page a side of every panel, in carving order.
func (m *maker) panels() {
	for i, p := range m.book.Panels {
		a, b := p.Carving.Steps()
		p.View.SideB = false
		m.side(p, a, i == 0)
		p.View.SideB = true
		m.side(p, b, false)
	}
}

// stepHeight is that of one step's line, with room to write.
const stepHeight = 41

// side is one side of a panel: its steps at the foot, its sheet above them.
func (m *maker) side(p Panel, steps []Step, first bool) {
	name := "A"
	if p.View.SideB {
		name = "B"
	}
	m.section = fmt.Sprintf("Panel %d, side %s", p.View.Number, name)
	m.turn()
	if first {
		m.page().begins = "Panels"
	}
	high := float64(len(steps))*stepHeight + 44
	m.put(box(sideMargin-6, m.y-6, m.w-sideMargin+6, m.bottom()-high-10), func(w, h float64) *draw.Drawing {
		return sheet.Panel(p.View, m.style(), w, h, sheet.Look{}).Drawing
	})
	m.y = m.bottom() - high
	m.stepNames(steps)
	for k, s := range steps {
		if k > 0 && s.Number > steps[k-1].Number+1 {
			m.between(steps[k-1].Number+1, s.Number-1)
		}
		m.step(s)
	}
}

// Columns of the steps, from the right margin.
const (
	realWide    = 78
	plannedWide = 62
)

func (m *maker) stepNames(steps []Step) {
	sum := 0.0
	for _, s := range steps {
		sum += s.Minutes
	}
	m.y += 10
	right := m.w - sideMargin
	m.text(draw.Text{At: vec(sideMargin, m.y), Words: "Steps", Size: 12, Bold: true, Color: m.ink.Ink})
	m.text(draw.Text{At: vec(right-realWide-10, m.y), Words: "planned, " + unit.Duration(sum), Size: smallSize, Color: m.ink.Faint, Align: draw.Right})
	m.text(draw.Text{At: vec(right, m.y), Words: "real, minutes", Size: smallSize, Color: m.ink.Faint, Align: draw.Right})
	m.y += 6
	m.rule(m.ink.Ink, 0.8)
}

// between says where the steps are that this page leaves out.
func (m *maker) between(from, to int) {
	m.y += 16
	words := fmt.Sprintf("Steps %d to %d are on the page of side B.", from, to)
	m.text(draw.Text{At: vec(sideMargin+44, m.y-4), Words: words, Size: smallSize, Color: m.ink.Faint})
	m.rule(m.ink.Rule, 0.5)
}

// step is one line: a box to tick, what is done and how, the planned minutes, a box for the real ones.
func (m *maker) step(s Step) {
	top, right := m.y, m.w-sideMargin
	mid := top + stepHeight/2
	m.tickBox(vec(sideMargin+2, mid))
	m.text(draw.Text{At: vec(sideMargin+34, mid+4), Words: fmt.Sprint(s.Number), Size: 12, Bold: true, Color: m.ink.Grain, Align: draw.Right})
	x, wide := float64(sideMargin+44), m.wide()-44-realWide-plannedWide-10
	lines := wrap(m.letters, s.Settings, smallSize, false, wide)
	if len(lines) > 2 { // smaller rather than cut
		lines = lines[:0]
	}
	y := mid + 3.5 - 5*float64(max(len(lines), bit(s.Settings != "")))
	m.text(boldAt(m, s.Name, x, y))
	for i, line := range lines {
		m.text(draw.Text{At: vec(x, y+11*float64(i+1)), Words: line, Size: smallSize, Color: m.ink.Faint})
	}
	if len(lines) == 0 {
		m.small(s.Settings, x, y+11, wide)
	}
	m.text(draw.Text{At: vec(right-realWide-10, mid+3.5), Words: unit.Duration(s.Minutes), Size: bodySize, Color: m.ink.Ink, Align: draw.Right})
	m.page().Outline(draw.Pen{Color: m.ink.Faint, Width: 0.7}, geom.Region{draw.BoxRing(box(right-realWide+14, top+9, right, top+stepHeight-9))})
	m.y += stepHeight
	m.rule(m.ink.Rule, 0.5)
}

func boldAt(m *maker, words string, x, y float64) draw.Text {
	return draw.Text{At: vec(x, y), Words: words, Size: bodySize, Bold: true, Color: m.ink.Ink}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
