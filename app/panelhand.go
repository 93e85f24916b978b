package app

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/render/sheet"
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

// nearBy is how near the pointer has to be to a tab or a pin, in units of the screen.
const nearBy = 5.0

// discOf is the radius of the disc with a part's number, in units of the screen: it takes the part, whatever lies under it.
const discOf = 11.0

// under is what lies at a place of the panel that is shown: a pin, a tab or a part.
func (w *window) under(v *job.Workshop, p geom.Vec2) (hold, bool) {
	near := nearBy / max(1e-6, w.panels.panel.PerMM)
	var part hold
	solid := false
	for _, q := range placedOn(v, w.panels.at) {
		of, ok := v.Part(q.Part)
		if !ok {
			continue
		}
		h := hold{part: q.Part, number: w.panels.at, at: q}
		s := q.Back(p)
		if sheet.Middle(of.Shadow).Sub(s).Len()*w.panels.panel.PerMM < discOf {
			h.what = aPart
			return h, true
		}
		for i, j := range v.Joints {
			if j.Above != q.Part.Layer && j.Contact.Below != q.Part.Layer {
				continue
			}
			for k, pin := range j.Pins {
				if pin.At.Sub(s).Len() < max(near, v.For.Shop.PinDiameter/2) && of.Shadow.Contains(pin.At) {
					h.what, h.joint, h.item, h.spot = aPin, i, k, pin.At
					return h, true
				}
			}
		}
		for k, t := range of.Tabs {
			if t.At.Add(t.Out.Scale(v.Margin/2)).Sub(s).Len() < max(near, v.Margin/2) {
				h.what, h.item, h.spot = aTab, k, t.At
				return h, true
			}
		}
		h.what = aPart
		if of.Shadow.Contains(s) {
			part, solid = h, true
		} else if !solid && part.what == nothing && around(of.Shadow).Contains(s) {
			part = h // in its hollow, where another part may lie
		}
	}
	return part, part.what != nothing
}

// around is a region without its holes.
func around(g geom.Region) (out geom.Region) {
	for _, r := range g {
		if r.Area() > 0 {
			out = append(out, r)
		}
	}
	return out
}

// placedOn are the parts on a panel of the layout.
func placedOn(v *job.Workshop, number int) []panel.Placed {
	for _, p := range v.Layout.Panels {
		if p.Number == number {
			return p.Placed
		}
	}
	return nil
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

// heldWords say what is in the way of what is in the hand.
func (w *window) heldWords(h held) string {
	k := w.hand
	switch {
	case k.what == aPin && !h.ok:
		return w.pinWords(h.room, h.near)
	case k.what == aPin:
		return fmt.Sprintf("%.1f mm of wood from the pin's middle to %v, %.1f mm are wanted.", h.room, h.near, w.pinWants())
	case k.what == aTab && !h.ok:
		return "This part has no place for a tab."
	case k.what == aTab:
		return "The tab goes to the nearest place where it can stand."
	case h.ok && k.keys:
		return partWords(k.part) + " may lie here · arrow keys move it, with shift finely · R turns it · Enter lets it go, Escape puts it back"
	case h.ok:
		return partWords(k.part) + " may lie here."
	}
	return hitWords(k.part, h.hits)
}

// hitWords name everything that a part collides with.
func hitWords(id panel.ID, hits []panel.Hit) string {
	text := partWords(id)
	for i, h := range hits {
		if i > 0 {
			text += ","
		}
		if h.Kind == panel.Grain {
			return text + ": its grain has to run with the panel's."
		}
		if h.Gap > 0 {
			text += " is"
		}
		text += " " + h.String()
	}
	return text + "."
}

func partWords(id panel.ID) string {
	return capital(id.String())
}

func (w *window) pinWants() float64 {
	h := w.session.Settings().Shop
	return h.PinDiameter/2 + h.PinCover
}

// letPanel lets go of what was carried with the mouse. A tab or a pin that was only clicked stays in the hand for the keys.
func (w *window) letPanel(moved bool) {
	if !w.hand.holds() {
		return
	}
	if !moved {
		if w.hand.what == aPart {
			w.hand = hand{}
		} else {
			w.hand.keys = true
			w.margin.hint("Arrow keys move it, Delete takes it away, Escape leaves it.")
		}
		w.asked = w.now()
		w.askShop(w.panels)
		return
	}
	w.letGo()
}

// letGo puts what is in the hand down where it is, or at the last place where it may be.
func (w *window) letGo() {
	h := &w.hand
	v := h.shop
	if now, current := w.workshop(); now != v || !current {
		w.drop()
		return
	}
	var p job.Places
	name, ok := "", false
	switch h.what {
	case aPart:
		name = "moved part"
		p, ok = w.putPart(v)
	case aTab:
		name = "moved tab"
		p, ok = w.putTab(v)
	case aPin:
		name = "moved pin"
		p, ok = w.putPin(v)
	}
	if !ok || h.hold == h.from {
		w.drop()
		return
	}
	h.let, h.keys = true, false
	w.part = h.part
	w.trace.line("what=put name=%q x=%.1f y=%.1f panel=%d", name, h.place().X, h.place().Y, h.number)
	refused := w.margin.words.Text()
	where := fmt.Sprintf("%s lies on panel %d now.", partWords(h.part), h.number)
	w.put(name, p)
	w.pick(h.part.Layer)
	switch {
	case strings.HasSuffix(refused, lastFree):
		w.hint(refused)
	case name == "moved part":
		w.hint(where)
	default:
		w.hint("")
	}
}

// putPart are the places with the part in hand where it is held, or where it was last free.
func (w *window) putPart(v *job.Workshop) (job.Places, bool) {
	h := &w.hand
	if ok, hits := v.Fits(h.number, h.at); !ok {
		words := hitWords(h.part, hits)
		if h.good == h.from {
			w.trace.line("what=refused hits=%d", len(hits))
			w.hint(words + " It is back where it was.")
			return job.Places{}, false
		}
		w.trace.line("what=refused hits=%d", len(hits))
		w.hint(words + lastFree)
		h.hold = h.good
		if h.number != w.panels.at {
			w.panels.at = h.number
		}
	}
	p, err := v.Put(h.number, h.at)
	return p, err == nil
}

// lastFree is said of a part that was let go where it may not lie.
const lastFree = " It lies where it was last free."

// hint says a word that stays until the hand does something else.
func (w *window) hint(words string) { w.margin.hint(words) }

// putTab are the places with the tab in hand at the nearest place where it can stand.
func (w *window) putTab(v *job.Workshop) (job.Places, bool) {
	h := &w.hand
	t, ok := v.NearestTab(h.part, h.spot)
	of, known := v.Part(h.part)
	if !ok || !known {
		return job.Places{}, false
	}
	h.spot = t.At
	spots := tabSpots(of)
	if h.item < len(spots) {
		spots[h.item] = t.At
	}
	return v.Places.PlacesOf(v.Layout).WithTabs(h.part, spots), true
}

func tabSpots(p *job.Part) []geom.Vec2 {
	out := make([]geom.Vec2, len(p.Tabs))
	for i, t := range p.Tabs {
		out[i] = t.At
	}
	return out
}

// putPin are the places with the pin in hand where it is held.
func (w *window) putPin(v *job.Workshop) (job.Places, bool) {
	h := &w.hand
	j := &v.Joints[h.joint]
	if room, near := j.PinRoom(h.spot); room < w.pinWants() {
		w.hint(w.pinWords(room, near) + " It is back where it was.")
		return job.Places{}, false
	}
	spots := pinSpots(j)
	spots[h.item] = h.spot
	return v.Places.PlacesOf(v.Layout).WithPins(j.Above, spots), true
}

// pinWords say why a pin can't stand somewhere.
func (w *window) pinWords(room float64, near job.PinNear) string {
	if room <= 0 {
		return fmt.Sprintf("Here a pin would come out at %v.", near)
	}
	return fmt.Sprintf("Here a pin has %.1f mm of wood from its middle to %v and wants %.1f mm.", room, near, w.pinWants())
}

func pinSpots(j *job.Joint) []geom.Vec2 {
	out := make([]geom.Vec2, len(j.Pins))
	for i, p := range j.Pins {
		out[i] = p.At
	}
	return out
}
