package book

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// panels is every panel with its steps: a page each time that it lies on the machine with another side up.
func (m *maker) panels() {
	for i, p := range m.book.Panels {
		turns := turnsOf(p.Steps)
		high := 0.0 // alike on all pages, so that both sides are drawn to one scale
		for _, t := range turns {
			high = max(high, m.stepsHeight(t.steps))
		}
		for k, t := range turns {
			p.View.SideB = t.sideB
			m.section = fmt.Sprintf("Panel %d, side A", p.View.Number)
			if t.sideB {
				m.section = fmt.Sprintf("Panel %d, side B", p.View.Number)
			} else if k > 0 {
				m.section += " again"
			}
			m.turn()
			if i+k == 0 {
				m.page().begins = "Panels"
			}
			m.panelPage(p, t, high)
		}
	}
}

// Heights of the steps' parts, in points.
const (
	stepsHead = 16 // their heading
	stepBase  = 17 // a step without its words below
	stepLine  = 10 // each line of them
)

// stepWords are the lines below a step's name.
func (m *maker) stepWords(s Step) []string {
	return wrap(m.letters, s.How, smallSize, false, m.wide()-stepIndent-realWide-plannedWide-10)
}

func (m *maker) stepHeight(s Step) float64 { return stepBase + stepLine*float64(len(m.stepWords(s))) }

// stepsHeight is that of steps, with what is said below them.
func (m *maker) stepsHeight(steps []Step) float64 {
	high := float64(stepsHead) + m.careHeight()
	for _, s := range steps {
		high += m.stepHeight(s)
	}
	return high
}

// panelPage is a panel's sheet with its steps below it.
func (m *maker) panelPage(p Panel, t turn, high float64) {
	m.put(box(sideMargin-6, m.y-6, m.w-sideMargin+6, m.bottom()-high-10), func(w, h float64) *draw.Drawing {
		return sheet.Panel(p.View, m.style(), w, h, sheet.Look{}).Drawing
	})
	m.y = m.bottom() - high
	m.stepNames(t.steps)
	for k, s := range t.steps {
		m.step(t.first+k, s)
	}
	m.care()
}

// panelCare is what to mind while a panel is machined.
const panelCare = "Before each pass: clamps, dowels and tabs checked, extraction on, mask, ear and eye protection on, nobody's hands near the cutter. Spindle isolated before the cutter, a clamp or a part is touched. The rules where you work and the makers' instructions come first."

func (m *maker) careLines() []string {
	return wrap(m.letters, panelCare, smallSize, false, m.wide())
}

func (m *maker) careHeight() float64 { return 6 + stepLine*float64(len(m.careLines())) }

func (m *maker) care() {
	m.y += 3
	for _, line := range m.careLines() {
		m.y += stepLine
		m.text(draw.Text{At: vec(sideMargin, m.y), Words: line, Size: smallSize, Color: m.ink.Ink})
	}
}

// Columns of the steps: their names from the left margin, minutes from the right one.
const (
	stepIndent  = 44
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

// step is a box to tick, what is done and how, the planned minutes where the program knows them, a box for the real ones.
func (m *maker) step(number int, s Step) {
	top, right := m.y, m.w-sideMargin
	high := m.stepHeight(s)
	mid := top + high/2
	m.tickBox(vec(sideMargin+2, mid))
	m.text(draw.Text{At: vec(sideMargin+34, mid+4), Words: fmt.Sprint(number), Size: 12, Bold: true, Color: m.ink.Grain, Align: draw.Right})
	x := float64(sideMargin + stepIndent)
	y := top + 11.5
	m.text(boldAt(m, s.Name, x, y))
	for i, line := range m.stepWords(s) {
		m.text(draw.Text{At: vec(x, y+stepLine*float64(i+1)), Words: line, Size: smallSize, Color: m.ink.Faint})
	}
	if s.Minutes > 0 {
		m.text(draw.Text{At: vec(right-realWide-10, mid+3.5), Words: unit.Duration(s.Minutes), Size: bodySize, Color: m.ink.Ink, Align: draw.Right})
	}
	m.page().Outline(draw.Pen{Color: m.ink.Faint, Width: 0.7}, geom.Region{draw.BoxRing(box(right-realWide+14, top+3, right, top+high-3))})
	m.y += high
	m.rule(m.ink.Rule, 0.5)
}

func boldAt(m *maker, words string, x, y float64) draw.Text {
	return draw.Text{At: vec(x, y), Words: words, Size: bodySize, Bold: true, Color: m.ink.Ink}
}
