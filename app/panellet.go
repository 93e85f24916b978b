package app

import (
	"fmt"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

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

func pinSpots(j *job.Joint) []geom.Vec2 {
	out := make([]geom.Vec2, len(j.Pins))
	for i, p := range j.Pins {
		out[i] = p.At
	}
	return out
}
