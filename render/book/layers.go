package book

import (
	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// Layers on a page: two by two.
const layerColumns, layerRows = 2, 2

// layers is every layer's sheet, with its figures.
func (m *maker) layers() {
	if len(m.book.Layers) == 0 {
		return
	}
	m.begin("Layers")
	top := m.y
	fit := m.reach()
	const gap = 14
	for i, l := range m.book.Layers {
		k := i % (layerColumns * layerRows)
		if k == 0 && i > 0 {
			m.turn()
			top = m.y
		}
		wide := (m.wide() - gap*(layerColumns-1)) / layerColumns
		high := (m.bottom() - top - gap*(layerRows-1)) / layerRows
		x := sideMargin + float64(k%layerColumns)*(wide+gap)
		y := top + float64(k/layerColumns)*(high+gap)
		l.View.Notes = append(append([]string(nil), l.View.Notes...), l.Figures...)
		if size := l.View.Fit.Size(); !(size.X > 0 || size.Y > 0) {
			l.View.Fit = fit
		}
		m.put(box(x, y, x+wide, y+high), func(w, h float64) *draw.Drawing {
			return sheet.Layer(l.View, m.style(), w, h, sheet.Look{}).Drawing
		})
	}
	m.y = m.bottom()
}

// reach is the box round all layers, so that they are drawn at one scale and in their places.
func (m *maker) reach() geom.Box2 {
	all := geom.EmptyBox2()
	for _, l := range m.book.Layers {
		for _, g := range []geom.Region{l.View.Widest, l.View.BottomOutline, l.View.TopOutline} {
			all = all.Union(g.Box())
		}
	}
	if all.Empty() {
		return geom.Box2{}
	}
	return all
}
