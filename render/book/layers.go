package book

import (
	"fmt"

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
			times := 1
			if l.View.Fit, times = closer(fit, outlines(l.View)); times > 1 {
				l.View.Notes = append(l.View.Notes, fmt.Sprintf("drawn at %d times the scale of the largest layer", times))
			}
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
		all = all.Union(outlines(l.View))
	}
	if all.Empty() {
		return geom.Box2{}
	}
	return all
}

// outlines is the box round a layer's outlines.
func outlines(v sheet.LayerView) geom.Box2 {
	return v.Widest.Box().Union(v.BottomOutline.Box()).Union(v.TopOutline.Box())
}

// mostCloser is the most that a small layer is enlarged.
const mostCloser = 8

// closer is what of the box round all layers a small one is shown in: halved round the layer as long as that has room in it,
// with a little air, so that scales stay easy to compare.
func closer(all, own geom.Box2) (fit geom.Box2, times int) {
	const air = 1.1
	size, need := all.Size(), own.Size().Scale(air)
	if own.Empty() || all.Empty() {
		return all, 1
	}
	times = 1
	for times < mostCloser && need.X <= size.X/2 && need.Y <= size.Y/2 {
		size, times = size.Scale(0.5), 2*times
	}
	if times == 1 {
		return all, 1
	}
	middle := own.Min.Add(own.Max).Scale(0.5)
	return geom.Box2{Min: middle.Sub(size.Scale(0.5)), Max: middle.Add(size.Scale(0.5))}, times
}
