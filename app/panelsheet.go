package app

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

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

// Steps of what the arrow keys move, mm.
const (
	keyStep  = 5.0
	fineStep = 0.5
)

// keyPanel takes the keys of the panel sheet.
func (w *window) keyPanel(k fyne.KeyName) {
	if w.hand.holds() && w.keyHand(k) {
		return
	}
	s := w.panels
	middle := fyne.NewPos(s.Size().Width/2, s.Size().Height/2)
	switch k {
	case fyne.KeyLeft, fyne.KeyPageUp:
		w.leafTo(s, s.at-1)
	case fyne.KeyRight, fyne.KeyPageDown:
		w.leafTo(s, s.at+1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		w.takeByKey()
	case fyne.KeyPeriod:
		w.takeByKey()
		w.takeNext()
	case fyne.KeyPlus, fyne.KeyEqual:
		w.zoomPanel(middle, 1)
	case fyne.KeyMinus:
		w.zoomPanel(middle, -1)
	case fyne.KeyHome:
		w.fitPanel()
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
	default:
		w.key(k)
	}
}

// keyHand moves what is in the hand; false leaves the key to others.
func (w *window) keyHand(k fyne.KeyName) bool {
	step := keyStep
	if w.fine {
		step = fineStep
	}
	switch k {
	case fyne.KeyLeft:
		w.nudge(geom.Vec2{X: -step})
	case fyne.KeyRight:
		w.nudge(geom.Vec2{X: step})
	case fyne.KeyUp:
		w.nudge(geom.Vec2{Y: step})
	case fyne.KeyDown:
		w.nudge(geom.Vec2{Y: -step})
	case fyne.KeyPageUp:
		w.leafTo(w.panels, w.panels.at-1)
	case fyne.KeyPageDown:
		w.leafTo(w.panels, w.panels.at+1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		w.letGo()
	case fyne.KeyPeriod:
		w.takeNext()
	case fyne.KeyEscape:
		w.drop()
		w.hint("It is back where it was.")
	default:
		return false
	}
	return true
}

func (w *window) nudge(by geom.Vec2) {
	w.hand.move(w.hand.place().Add(by))
	w.hand.keys = true
	w.asked = w.now()
	w.askShop(w.panels)
}

// takeByKey takes the picked part into the hand.
func (w *window) takeByKey() {
	v, now := w.workshop()
	if !now || w.hand.what != nothing {
		return
	}
	id, ok := w.pickedPart(v)
	number, at, laid := v.Layout.Find(id)
	if !ok || !laid {
		return
	}
	h := hold{what: aPart, part: id, number: number, at: at}
	w.hand = hand{hold: h, from: h, good: h, shop: v, keys: true}
	w.panels.at = number
	w.asked = w.now()
	w.askShop(w.panels)
}

// takeNext takes the next thing of the same part into the hand: its tabs, its pins, and then the part again.
func (w *window) takeNext() {
	k := w.hand
	if !k.holds() || k.hold != k.from {
		return
	}
	v := k.shop
	of, ok := v.Part(k.part)
	if !ok {
		return
	}
	all := []hold{{what: aPart, part: k.part, number: k.number, at: k.at}}
	for i, t := range of.Tabs {
		all = append(all, hold{what: aTab, part: k.part, number: k.number, at: k.at, item: i, spot: t.At})
	}
	for i, j := range v.Joints {
		for n, p := range j.Pins {
			if (j.Above == of.Layer || j.Contact.Below == of.Layer) && of.Shadow.Contains(p.At) {
				all = append(all, hold{what: aPin, part: k.part, number: k.number, at: k.at, joint: i, item: n, spot: p.At})
			}
		}
	}
	next := all[(slices.Index(all, k.hold)+1)%len(all)]
	w.hand = hand{hold: next, from: next, good: next, shop: v, keys: true}
	w.asked = w.now()
	w.askShop(w.panels)
}

// turnPart turns the part in hand, or the picked one, about its middle as its grain allows. One that can't lie turned where it
// lies stays in the hand.
func (w *window) turnPart() {
	if !w.hand.holds() {
		w.takeByKey()
	}
	h := &w.hand
	if !h.holds() || h.what != aPart {
		return
	}
	of, ok := h.shop.Part(h.part)
	if !ok {
		return
	}
	box := of.Shadow.Box()
	middle := box.Min.Add(box.Max).Scale(0.5)
	was := h.at.Apply(middle)
	next := h.at
	next.TurnDeg = (next.TurnDeg + 180) % 360
	next.At = next.At.Add(was.Sub(next.Apply(middle)))
	begun := h.hold == h.from
	h.at = next
	if fits, hits := h.shop.Fits(h.number, next); fits && begun && h.keys {
		w.letGo()
		return
	} else if !fits {
		w.hint(hitWords(h.part, hits) + " Move it to a free place; Enter lets it go.")
	}
	w.asked = w.now()
	w.askShop(w.panels)
}

// lockPart locks the picked part where it lies, or lets it go.
func (w *window) lockPart() {
	v, now := w.workshop()
	if !now || w.hand.what != nothing {
		return
	}
	id, _ := w.pickedPart(v)
	number, at, laid := v.Layout.Find(id)
	if !laid {
		return
	}
	at.Locked = !at.Locked
	p, err := v.Put(number, at)
	if err != nil {
		w.hint(sentence(err))
		return
	}
	name := "lock"
	if !at.Locked {
		name = "unlock"
	}
	w.put(name, p)
	w.hint(partWords(id) + map[bool]string{true: " stays here when the rest is laid out anew.", false: " is laid out anew with the rest."}[at.Locked])
}

// layAnew leaves all parts that are not locked to the program again.
func (w *window) layAnew() {
	v, now := w.workshop()
	if w.laying.left || w.laying.fault != "" || v == nil {
		w.laying.left, w.laying.asked = false, shopKey{}
		w.askWorkshop()
		w.askSheet()
		return
	}
	if !now {
		return
	}
	p := v.Rearranged()
	if len(p.Parts) == len(v.Places.Parts) {
		w.hint("So the program lays it out. Lock a part where you want it, and the rest goes round it.")
		return
	}
	w.put("layout anew", p)
}

// addTo takes the next click on the sheet for where a tab or a pin is wanted.
func (w *window) addTo(what grip) {
	w.drop()
	w.hand.adding = what
	w.hint(map[grip]string{aTab: "Click beside the edge where a tab shall stand · Escape leaves it", aPin: "Click where a pin shall stand · Escape leaves it"}[what])
	w.showShop(w.panels)
}

// panelWords are the line above the panel sheet and those below it.
func (w *window) panelWords(v *job.Workshop) (caption, facts string) {
	u := w.session.View.Units
	on := placedOn(v, w.panels.at)
	caption = fmt.Sprintf("Panel %d of %d · ", w.panels.at, max(v.Panels(), w.panels.at))
	if len(on) == 0 {
		caption += "empty"
	}
	for _, p := range v.Layout.Panels {
		if p.Number == w.panels.at {
			caption += fmt.Sprintf("%d %s · %.0f %% used", len(on), plural(len(on), "part", "parts"), p.UsedPercent)
		}
	}
	if w.hand.adding != nothing {
		return caption, w.margin.words.Text()
	}
	id, ok := w.pickedPart(v)
	of, known := v.Part(id)
	if !ok || !known {
		return caption, ""
	}
	size := of.Shadow.Box().Size()
	facts = fmt.Sprintf("%s · %s × %s · ", partWords(id), unit.Length(size.X, u), unit.Length(size.Y, u))
	number, at, laid := v.Layout.Find(id)
	switch {
	case !laid:
		facts += "too large for the panel"
	case number != w.panels.at:
		facts += fmt.Sprintf("on panel %d", number)
	case at.Locked:
		facts += "locked"
	default:
		facts += fmt.Sprintf("turned %d°", at.TurnDeg)
	}
	pins := 0
	for _, j := range v.Joints {
		for _, p := range j.Pins {
			if (j.Above == id.Layer || j.Contact.Below == id.Layer) && of.Shadow.Contains(p.At) {
				pins++
			}
		}
	}
	facts += fmt.Sprintf(" · %d %s, %d %s", len(of.Tabs), plural(len(of.Tabs), "tab", "tabs"), pins, plural(pins, "pin", "pins"))
	if !of.Held {
		facts += " · held badly"
	}
	return caption, facts
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
