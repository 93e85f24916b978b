package book

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// finish is sanding and coats, with boxes to tick.
func (m *maker) finish() {
	f := m.book.Finish
	if f.Area <= 0 && f.Coats == 0 && len(f.Grits) == 0 {
		return
	}
	m.begin("Sanding and finish")
	m.bullets(append(m.finishWords(f), f.Notes...), false)
	var rows [][]string
	for i, g := range f.Grits {
		how := "with the grain of the faces; brush off before the next grit"
		if i == 0 {
			how = "take the cutter's marks and the steps at the joints down"
		}
		rows = append(rows, []string{tick, fmt.Sprintf("Sand, grit %d", g), how, write})
	}
	for c := range f.Coats {
		how := "thin and even; " + unit.Liquid(f.Litres, m.book.Units)
		if c > 0 && f.RecoatH > 0 {
			how = fmt.Sprintf("after %.0f h, rubbed down lightly; %s", f.RecoatH, unit.Liquid(f.Litres, m.book.Units))
		}
		rows = append(rows, []string{tick, fmt.Sprintf("Coat %d", c+1), how, write})
	}
	if len(rows) > 0 {
		m.table([]column{{"", 1, draw.Left}, {"step", 4, draw.Left}, {"how", 11, draw.Left}, {"real minutes", 3, draw.Right}}, rows)
	}
	m.y += 8
	m.lead("Dust", "Sanding dust is the finest of all: extract it, and wear a close-fitting mask.")
	if f.Coats > 0 {
		m.lead("Fumes", "Air the room, wear gloves, and keep flames and sparks away, as the finish's data sheet says; it and the rules where you work come before this page.")
		m.lead("Rags", "Rags with oil or solvent finish can catch fire by themselves. Don't leave used ones in a heap: dry them flat outdoors, or close them under water in a metal can.")
	}
}

func (m *maker) finishWords(f Finish) (out []string) {
	u := m.book.Units
	if f.Area > 0 {
		out = append(out, fmt.Sprintf("The skin to sand is %s.", unit.Area(f.Area, u)))
	}
	if f.Allowance > 0 {
		out = append(out, fmt.Sprintf("The cutter leaves %s for sanding all over: sand down to the form, not beyond.", unit.Length(f.Allowance, u)))
	}
	if f.Coats > 0 {
		words := fmt.Sprintf("%d %s", f.Coats, phrase.Plural(f.Coats, "coat", "coats"))
		if f.Name != "" {
			words += " of " + f.Name
		}
		if f.Litres > 0 {
			words += ": " + unit.Liquid(f.Litres*float64(f.Coats), m.book.Units) + " in all"
		}
		out = append(out, words+".")
	}
	return out
}
