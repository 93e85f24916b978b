package job

import (
	"math"

	"grainstack/slicing/hours"
)

// fillMinutes estimates the router's time on each layer from the profile.
func (f *Figures) fillMinutes(st *Standing) {
	for i := range f.Layers {
		f.Layers[i].Minutes = f.estimated(st, &f.Layers[i], f.chosen.setup)
	}
}

// estimated is the router's time on a layer.
func (f *Figures) estimated(st *Standing, l *Layer, setup hours.Setup) Minutes {
	t := hours.Estimate(f.hoursLayer(st, l), setup)
	return Minutes{
		RoughTop: t.Up.RoughMin, RoughBottom: t.Down.RoughMin,
		FineTop: t.Up.FinishMin, FineBottom: t.Down.FinishMin,
	}
}

// hoursLayer is a layer as the time model wants it. Rows run along the grain of the panel's faces, X, or Y where the layer is
// turned; or across it where that is wanted.
func (f *Figures) hoursLayer(st *Standing, l *Layer) hours.Layer {
	p := st.Profile
	widest, area := p.Widest(l.Bottom, l.Top)
	low, high := l.PanelBottom, l.PanelBottom+f.Thickness // a face where the piece ends inside its panel is carved, too
	alongX := !l.Turned != f.For.AcrossGrain
	h := hours.Layer{
		Thickness: f.Thickness, Skim: l.Skim,
		Outline: area, Perimeter: p.Perimeter(widest), Wood: l.Wood + l.Core, Parts: max(1, len(l.Parts)),
		Up:   hours.Side{Rows: p.Rows(low, high, true, alongX), Section: p.AreaBelow(l.Top)},
		Down: hours.Side{Rows: p.Rows(low, high, false, alongX), Section: p.Area(l.Bottom)},
	}
	if !(l.Core > 0) {
		return h
	}
	h.Core = hours.Core{Volume: l.Core, Straight: f.For.Core == Straight}
	if h.Core.Straight {
		h.Up.Core, h.Down.Core = l.Pocket.Area(), l.Pocket.Area()
		h.Core.Perimeter = l.Pocket.Perimeter()
		return h
	}
	w := f.For.Wall
	h.Up.Core, h.Down.Core = st.Table.CoreArea(l.Top, w), st.Table.CoreArea(l.Bottom, w)
	h.Core.Skin = st.Table.CoreSurface(l.Bottom, l.Top, w)
	if widest := max(h.Up.Core, h.Down.Core); h.Outline > 0 { // as jagged as the outline, and smaller
		h.Core.Perimeter = h.Perimeter * math.Sqrt(widest/h.Outline)
	}
	return h
}

// panels estimates how many panels the layers want, and with them the work by hand: layers share a panel where several of
// their size have room on it.
func (f *Figures) panels() {
	m := f.chosen.setup.Margin()
	taken := 2*f.For.Edge(m) - m
	share := make([]float64, len(f.Layers))
	sum := 0.0
	var kinds boardSums // panels of another board are other panels
	for i := range f.Layers {
		l := &f.Layers[i]
		x, y := l.Size.X, l.Size.Y
		if l.Turned {
			x, y = y, x
		}
		n := math.Max(1, math.Floor((f.For.PanelX-taken)/(x+m))) * math.Max(1, math.Floor((f.For.PanelY-taken)/(y+m)))
		share[i] = 1 / n
		sum += share[i]
		kinds.of(l.Board).panels += share[i]
	}
	f.Totals.Panels = 0
	for _, k := range kinds {
		f.Totals.Panels += int(math.Ceil(k.panels - 1e-9))
	}
	if f.Totals.Panels == 0 {
		return
	}
	hands := f.chosen.setup.HandsOn(f.Totals.Panels)
	for i := range f.Layers {
		f.Layers[i].Minutes.HandsOn = hands * share[i] / sum
		f.Totals.HandsOnMin += f.Layers[i].Minutes.HandsOn
	}
}

// Reckoned are the minutes that a side of a layer was reckoned to take before anything was learned of the machine.
func (f *Figures) Reckoned(layer int, down bool) float64 {
	m := f.Layers[layer-1].Minutes
	reckoned := m.RoughTop + m.FineTop
	if down {
		reckoned = m.RoughBottom + m.FineBottom
	}
	if k := f.Factor; k.Known() && k.Times > 0 {
		reckoned /= k.Times
	}
	return reckoned
}
