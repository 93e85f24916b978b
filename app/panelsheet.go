package app

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
)

// newPanels is the panel sheet.
func (w *window) newPanels() *shopPane {
	w.tools = newPanelTools(w)
	s := w.newShopPane(panelSheet, "panel sheet", pane.Gestures{
		Turned: w.panPanel, Panned: w.panPanel, Zoomed: w.zoomPanel,
		Clicked: w.clickPanel, Doubled: func(fyne.Position) { w.fitPanel() },
		Key: w.keyPanel, Shifted: func(on bool) { w.fine = on }, Pointed: w.pointPanel,
		Taken: w.takePanel, Carried: w.carryPanel, Let: w.letPanel,
	}, w.tools.whole)
	return s
}

func (w *window) panPanel(dx, dy float32) {
	w.panels.look.PanX += float64(dx)
	w.panels.look.PanY += float64(dy)
	w.asked = w.now()
	w.askShop(w.panels)
}

// zoomPanel zooms so that what is under the pointer stays there.
func (w *window) zoomPanel(at fyne.Position, notches float32) {
	s := w.panels
	zoom := max(1e-3, s.look.Zoom)
	if s.look.Zoom <= 0 {
		zoom = 1
	}
	next := max(0.5, min(40, zoom*math.Pow(zoomSpeed, float64(notches))))
	middle := s.panel.Plan.Min.Add(s.panel.Plan.Max).Scale(0.5)
	p := geom.Vec2{X: float64(at.X), Y: float64(at.Y)}.Sub(middle)
	pan := geom.Vec2{X: s.look.PanX, Y: s.look.PanY}
	pan = p.Sub(p.Sub(pan).Scale(next / zoom))
	s.look = sheet.Look{Zoom: next, PanX: pan.X, PanY: pan.Y}
	w.asked = w.now()
	w.askShop(s)
}

func (w *window) fitPanel() {
	w.panels.look = sheet.Look{}
	w.asked = w.now()
	w.askShop(w.panels)
}

// clickPanel picks the layer of the part under the hand, or adds what is to be added there.
func (w *window) clickPanel(at fyne.Position) {
	if w.hand.adding != nothing {
		w.addAt(at)
		return
	}
	v, _ := w.workshop()
	p, ok := w.panels.panel.ToMM(float64(at.X), float64(at.Y))
	if v == nil || !ok || w.hand.what != nothing {
		return
	}
	if h, found := w.under(v, p); found {
		w.pickPart(h.part)
	}
}

// pickPart picks a part and its layer.
func (w *window) pickPart(id panel.ID) {
	w.part = id
	w.pick(id.Layer)
	w.asked = w.now()
	w.askShop(w.panels)
}

// pickedPart is the part that is picked: the last that was clicked, or the first of the picked layer.
func (w *window) pickedPart(v *job.Workshop) (id panel.ID, ok bool) {
	layer := w.session.Layer()
	if _, known := v.Part(w.part); known && w.part.Layer == layer {
		return w.part, true
	}
	for _, p := range v.Parts {
		if p.Layer == layer {
			return p.ID, true
		}
	}
	return id, false
}

// turnToLayer shows the panel that the picked part lies on.
func (w *window) turnToLayer() {
	v, _ := w.workshop()
	if v == nil || w.hand.what != nothing {
		return
	}
	if id, ok := w.pickedPart(v); ok {
		if n, _, laid := v.Layout.Find(id); laid {
			w.panels.at = n
		}
	}
}

func (w *window) pointPanel(at fyne.Position, here bool) {
	if w.hand.what != nothing || w.hand.adding != nothing {
		return
	}
	v, now := w.workshop()
	p, ok := w.panels.panel.ToMM(float64(at.X), float64(at.Y))
	if !here || !ok || v == nil {
		w.margin.hint("")
		return
	}
	words := "wheel zooms · drag moves the sheet · double-click fits"
	if h, found := w.under(v, p); found && now {
		switch h.what {
		case aPart:
			words = partWords(h.part) + " · drag it, up onto a panel's number to take it there · R turns it"
		case aTab:
			words = fmt.Sprintf("Tab %d of %v · drag it along the edge", h.item+1, h.part)
		case aPin:
			j := v.Joints[h.joint]
			words = fmt.Sprintf("Pin between layers %d and %d, %.0f mm deep in each · drag it", j.Contact.Below, j.Above, j.Depth)
		}
	}
	u := w.session.View.Units
	w.margin.hint(unit.Length(p.X, u) + " and " + unit.Length(p.Y, u) + " from the corner · " + words)
}

// addTo takes the next click on the sheet for where a tab or a pin is wanted.
func (w *window) addTo(what grip) {
	w.drop()
	w.hand.adding = what
	w.hint(map[grip]string{aTab: "Click beside the edge where a tab shall stand · Escape leaves it", aPin: "Click where a pin shall stand · Escape leaves it"}[what])
	w.showShop(w.panels)
}
