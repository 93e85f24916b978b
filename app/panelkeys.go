package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/slicing/geom"
)

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
