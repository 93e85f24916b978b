package app

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// remove takes the tab or pin in hand away.
func (w *window) remove() {
	h := w.hand
	v, now := w.workshop()
	if !h.holds() || h.what == aPart || !now || v != h.shop {
		return
	}
	p := v.Places.PlacesOf(v.Layout)
	name := "tab taken away"
	if h.what == aTab {
		of, _ := v.Part(h.part)
		spots := tabSpots(of)
		if len(spots) < 2 {
			w.hint("A part needs at least one tab: else nothing holds it while it is carved.")
			return
		}
		p = p.WithTabs(h.part, slices.Delete(spots, h.item, h.item+1))
	} else {
		name = "pin taken away"
		j := &v.Joints[h.joint]
		spots := pinSpots(j)
		if len(spots) < 2 {
			w.hint("The last pin of a joint stays: set the pins' diameter to 0 for none at all.")
			return
		}
		p = p.WithPins(j.Above, slices.Delete(spots, h.item, h.item+1))
	}
	w.hand = hand{}
	w.put(name, p)
}

// addAt adds a tab or a pin at a place of the panel sheet.
func (w *window) addAt(at fyne.Position) {
	what := w.hand.adding
	v, now := w.workshop()
	p, ok := w.panels.panel.ToMM(float64(at.X), float64(at.Y))
	if !ok || !now {
		return
	}
	h, found := w.nearest(v, p)
	if !found {
		w.hint("Click on a part, or beside its edge.")
		return
	}
	spot := h.at.Back(p)
	of, _ := v.Part(h.part)
	places := v.Places.PlacesOf(v.Layout)
	if what == aTab {
		t, ok := v.NearestTab(h.part, spot)
		if !ok {
			w.hint("This part has no place for a tab.")
			return
		}
		w.hand = hand{}
		w.put("another tab", places.WithTabs(h.part, append(tabSpots(of), t.At)))
		return
	}
	best, room, near := -1, -1.0, job.JointEdge
	for i := range v.Joints {
		if j := &v.Joints[i]; j.Above == h.part.Layer || j.Contact.Below == h.part.Layer {
			if r, n := j.PinRoom(spot); r > room && j.Depth > 0 {
				best, room, near = i, r, n
			}
		}
	}
	if best < 0 || room < w.pinWants() {
		w.hint(w.pinWords(max(0, room), near))
		return
	}
	j := &v.Joints[best]
	w.hand = hand{}
	w.put("another pin", places.WithPins(j.Above, append(pinSpots(j), spot)))
	w.hint(fmt.Sprintf("A pin more between layers %d and %d.", j.Contact.Below, j.Above))
}

// nearest is the part at a place of the panel that is shown, or the one whose box is nearest.
func (w *window) nearest(v *job.Workshop, p geom.Vec2) (hold, bool) {
	best, least := hold{}, v.Margin+5
	for _, q := range placedOn(v, w.panels.at) {
		of, ok := v.Part(q.Part)
		if !ok {
			continue
		}
		h := hold{what: aPart, part: q.Part, number: w.panels.at, at: q}
		if of.Shadow.Contains(q.Back(p)) {
			return h, true
		}
		if t, ok := v.NearestTab(q.Part, q.Back(p)); ok {
			if d := t.At.Sub(q.Back(p)).Len(); d < least {
				best, least = h, d
			}
		}
	}
	return best, best.what != nothing
}
