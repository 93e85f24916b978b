package app

import (
	"fyne.io/fyne/v2"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// A grip is what kind of thing is in the hand on the panel sheet.
type grip int

const (
	nothing grip = iota
	aPart
	aTab
	aPin
)

// A hold is what is in the hand and where.
type hold struct {
	what   grip
	part   panel.ID
	number int          // of the panel that it is held over
	at     panel.Placed // where the part lies or is held
	joint  int          // of the pin, from 0
	item   int          // which of the part's tabs or of the joint's pins
	spot   geom.Vec2    // where the tab or pin is held, on the stand
}

// A held is what came of a hold.
type held struct {
	ok   bool // it may be let go there
	hits []panel.Hit
	room float64     // wood from the middle of a pin
	near job.PinNear // to this
}

// A hand is what is being moved on the panel sheet.
type hand struct {
	hold
	from, good hold      // where it was taken, and where it was last that it may be
	grab       geom.Vec2 // from the pointer to what is held
	shop       *job.Workshop
	keys       bool // the keys move it, and Enter lets it go
	let        bool // it has been let go and is shown so until the workshop has followed
	adding     grip // the next click adds one
}

// holds reports whether something is in the hand that can still be moved.
func (h *hand) holds() bool { return h.what != nothing && !h.let }

// drop leaves what is in the hand where it was.
func (w *window) drop() bool {
	if w.hand.what == nothing && w.hand.adding == nothing {
		return false
	}
	w.hand = hand{}
	w.asked = w.now()
	w.askShop(w.panels)
	return true
}

// takePanel takes what lies at a place of the panel sheet into the hand.
func (w *window) takePanel(at fyne.Position) bool {
	v, now := w.workshop()
	if !now || w.hand.let || w.hand.adding != nothing {
		return w.hand.let || w.placing() && !now
	}
	p, ok := w.panels.panel.ToMM(float64(at.X), float64(at.Y))
	if !ok {
		return false
	}
	h, found := w.under(v, p)
	if w.hand.holds() && w.hand.keys && (!found || h.what == w.hand.what && h.part == w.hand.part) {
		h = w.hand.hold // what the keys hold goes on with the mouse
	} else if !found {
		return false
	}
	w.hand = hand{hold: h, from: h, good: h, shop: v, grab: h.place().Sub(p)}
	return true
}

// place is where the held thing is on the panel.
func (h *hold) place() geom.Vec2 {
	if h.what == aPart {
		return h.at.At
	}
	return h.at.Apply(h.spot)
}

// move holds it elsewhere on its panel.
func (h *hold) move(to geom.Vec2) {
	if h.what == aPart {
		h.at.At = to
	} else {
		h.spot = h.at.Back(to)
	}
}

// carryPanel moves what is in the hand under the pointer; over the numbers above the sheet it goes to that panel.
func (w *window) carryPanel(at fyne.Position) {
	if !w.hand.holds() {
		return
	}
	s := w.panels
	if at.Y < 0 && w.hand.what == aPart {
		gap := s.numbers.Position().Y + s.numbers.Size().Height - s.Position().Y // the picture begins where the numbers end
		if i := s.numbers.WordAt(fyne.NewPos(at.X, s.numbers.Size().Height/2)); i >= 0 && at.Y+gap > -2*s.numbers.Size().Height {
			w.leafTo(s, s.numbered(i))
		}
	}
	plan := s.panel.Plan
	p, ok := s.panel.ToMM(max(plan.Min.X, min(plan.Max.X, float64(at.X))), max(plan.Min.Y, min(plan.Max.Y, float64(at.Y))))
	if !ok {
		return
	}
	w.hand.move(p.Add(w.hand.grab))
	w.asked = w.now()
	w.askShop(s)
}

// holdOver holds a part over another panel.
func (w *window) holdOver(number int) {
	if w.hand.holds() && w.hand.what == aPart {
		w.hand.number = number
	} else if w.hand.holds() {
		w.hand = hand{}
	}
}

// sawHeld follows the picture of what is in the hand: it tells what is in the way, and keeps the last place that is free.
func (w *window) sawHeld(a shopSheetAsk, h held) {
	if a.hold.what == nothing || !w.hand.holds() || a.hold.what != w.hand.what || a.hold.part != w.hand.part {
		return
	}
	if h.ok {
		w.hand.good = a.hold
	}
	if a.hold != w.hand.hold {
		return
	}
	w.margin.hint(w.heldWords(h))
}

// hint says a word that stays until the hand does something else.
func (w *window) hint(words string) { w.margin.hint(words) }
