package book

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// glueUp is the whole order on one page, then a picture and a table for every stage.
func (m *maker) glueUp() {
	g := m.book.Glue
	if len(g.View.Layers) == 0 || len(g.Stages)+len(g.Seams) == 0 {
		return
	}
	m.begin("Glue-up")
	m.bullets(g.Notes, false)
	m.lead("Lifting", "Sub-stacks are heavier than they look: lift with straight back and with help, as the column \"to lift\" says, and keep fingers out of the joint.")
	m.lead("Glue", "Gloves, and air in the room, as the glue's data sheet says; it and the rules where you work come before this page.")
	if len(g.Stages) > 0 {
		m.room(320)
		m.put(box(sideMargin-6, m.y, m.w-sideMargin+6, m.bottom()), func(w, h float64) *draw.Drawing {
			return sheet.GlueUp(g.View, m.style(), w, h).Drawing
		})
		m.y = m.bottom()
	}
	m.seams()
	done := 0
	for i, s := range g.Stages {
		if i == 0 && len(g.Seams) == 0 {
			m.turn()
		}
		m.stage(s, done)
		done += len(s.Pressings)
	}
}

// seams are what is glued before the stages: the pieces of split layers, edge to edge.
func (m *maker) seams() {
	all := m.book.Glue.Seams
	if len(all) == 0 {
		return
	}
	if len(m.book.Glue.Stages) > 0 {
		m.turn()
	}
	m.head("Before stage 1 · pieces of split layers, edge to edge", 60)
	m.bullets([]string{"Lay the pieces on a flat board under foil, spread both edges, press them together from the sides and hold them down flat. Saw the tabs off the edges that meet first."}, false)
	columns := []column{
		{"", 1, draw.Left}, {"piece", 3, draw.Left}, {"to piece", 3, draw.Left}, {"joint", 3, draw.Right}, {"glue", 3, draw.Right}, {"clamps", 4, draw.Right}, {"real min", 3, draw.Right},
	}
	units := m.book.Units
	var rows [][]string
	for _, s := range all {
		rows = append(rows, []string{tick, s.Left, s.Right, unit.Area(s.Area, units), unit.Mass(s.GlueG, units), clamping(s.Clamps, s.ForceN), write})
	}
	m.table(columns, rows)
}

// clamping is how many clamps press a joint, and with what force in all.
func clamping(clamps int, force float64) string {
	words := fmt.Sprintf("%.1f kN", force/1000)
	if clamps > 0 {
		words = fmt.Sprintf("%d, %s", clamps, words)
	}
	return words
}

// picture is the height of a stage's picture: more for tall stacks.
func (m *maker) picture() float64 {
	return min(max(230, 11*float64(len(m.book.Glue.View.Layers))), m.bottom()-topMargin-180)
}

// stage is how the layers lie before the stage, and its pressings.
func (m *maker) stage(s Stage, done int) {
	first := 1.0
	if n := len(s.Pressings); n > 1 {
		first = 2
	}
	tall := m.picture()
	m.room(tall + 74 + first*30)
	n := len(s.Pressings)
	m.head(fmt.Sprintf("Stage %d · %d %s · about %s with the time in the clamps", s.Number, n, phrase.Plural(n, "joint", "joints"), unit.Duration(s.Minutes)), tall)
	v := m.book.Glue.View
	v.Done, v.Notes, v.Pressings = done, nil, nil
	for _, p := range m.book.Glue.View.Pressings {
		if p.Stage <= s.Number {
			v.Pressings = append(v.Pressings, p)
		}
	}
	style := m.style()
	style.Bare = true
	m.put(box(sideMargin, m.y, m.w-sideMargin, m.y+tall), func(w, h float64) *draw.Drawing {
		return sheet.GlueUp(v, style, w, h).Drawing
	})
	m.y += tall
	m.pressings(s)
}

func (m *maker) pressings(s Stage) {
	columns := []column{
		{"", 1, draw.Left}, {"no.", 1.4, draw.Right}, {"lay below", 3, draw.Left}, {"put on top", 3, draw.Left}, {"joint", 3.1, draw.Right}, {"glue", 2, draw.Right},
		{"clamps", 4.5, draw.Right}, {"to close", 2.4, draw.Right}, {"to lift", 3.4, draw.Right}, {"makes", 2.4, draw.Right}, {"real min", 2.6, draw.Right},
	}
	units := m.book.Units
	rows := make([][]string, len(s.Pressings))
	for i, p := range s.Pressings {
		lift := unit.Mass(p.LiftG, units)
		switch {
		case p.People > 1:
			lift += fmt.Sprintf(", %d people", p.People)
		case p.People == 0:
			lift += ", hoist"
		}
		rows[i] = []string{
			tick, fmt.Sprint(p.Number), span(p.Lower), span(p.Upper), unit.Area(p.Area, units), unit.Mass(p.GlueG, units),
			clamping(p.Clamps, p.ForceN), fmt.Sprintf("%.0f min", p.CloseMin), lift, unit.Mass(p.MakesG, units), write,
		}
	}
	m.table(columns, rows)
}

// span names a run of layers.
func span(layers [2]int) string {
	if layers[0] == layers[1] {
		return fmt.Sprint(layers[0])
	}
	return fmt.Sprintf("%d–%d", layers[0], layers[1])
}
