package book

import (
	"grainstack/render/draw"
	"grainstack/render/sheet"
)

// trials are the stacks that the job was weighed against, side by side: a page for each group.
func (m *maker) trials() {
	for i, t := range m.book.Trials {
		if i == 0 {
			m.begin("Trials")
		} else {
			m.turn()
		}
		t.View.Whole = true
		wide := m.wide() / sheetScale
		high := min(sheet.ComparisonHeight(t.View, m.style(), wide, 1), m.left()/sheetScale)
		at := box(sideMargin, m.y, sideMargin+m.wide(), m.y+high*sheetScale)
		m.put(at, func(w, h float64) *draw.Drawing {
			c := sheet.Comparison(t.View, m.style(), w, h)
			for k, b := range c.Pictures {
				if k >= len(t.Pictures) || t.Pictures[k] == nil {
					continue
				}
				b.Min, b.Max = at.Min.Add(b.Min.Scale(sheetScale)), at.Min.Add(b.Max.Scale(sheetScale))
				m.page().pictures = append(m.page().pictures, picture{t.Pictures[k], b})
			}
			return c.Drawing
		})
		m.y = at.Max.Y
	}
}
