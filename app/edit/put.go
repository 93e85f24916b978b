package edit

import (
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Change is what something done by hand comes to.
type Change struct {
	Name   string // of the step
	Places job.Places
	Hold   Hold      // where what was held lies then
	Words  unit.Said // what there is to say, also where there is no change
	Hits   int       // how much was in its way where it was let go
}

// Put is what letting go comes to: what is held lies where it is, or at the last place where it may be. Without a change it is
// back where it was.
func (h *Hand) Put() (c Change, ok bool) {
	switch h.What {
	case Part:
		c, ok = h.putPart()
	case Tab:
		c, ok = h.putTab()
	case Pin:
		c, ok = h.putPin()
	}
	return c, ok && c.Hold != h.From
}

// backAgain and lastFree are said of what was let go where it may not lie.
const (
	backAgain = "It is back where it was."
	lastFree  = "It lies where it was last free."
	noRoom    = "Panel %d has no room for %s as it is turned."
)

func (h *Hand) putPart() (Change, bool) {
	c := Change{Name: "moved part", Hold: h.Hold, Words: unit.Say("%s lies on panel %d now.", PartWords(h.Part), h.Number)}
	if h.Any {
		if h.Good.Number != h.Number {
			c.Words = unit.Say(noRoom+" %s", h.Number, h.Part, backAgain)
			return c, false
		}
		h.Hold = h.Good
		c.Hold = h.Hold
	}
	if fits, hits := h.Shop.Fits(h.Number, h.At); !fits {
		c.Hits, c.Hold, c.Words = len(hits), h.Good, hitWords(h.Part, hits)
		if h.Good == h.From {
			c.Words = unit.Say("%s %s", c.Words, backAgain)
			return c, false
		}
		c.Words = unit.Say("%s %s", c.Words, lastFree)
	}
	var err error
	c.Places, err = h.Shop.Put(c.Hold.Number, c.Hold.At)
	return c, err == nil
}

// putTab puts a tab to the nearest place where it can stand.
func (h *Hand) putTab() (Change, bool) {
	t, ok := h.Shop.NearestTab(h.Part, h.Spot)
	of, known := h.Shop.Part(h.Part)
	if !ok || !known {
		return Change{}, false
	}
	c := Change{Name: "moved tab", Hold: h.Hold}
	c.Hold.Spot = t.At
	spots := tabSpots(of)
	if h.Item < len(spots) {
		spots[h.Item] = t.At
	}
	c.Places = placesOf(h.Shop).WithTabs(h.Part, spots)
	return c, true
}

func (h *Hand) putPin() (Change, bool) {
	j := &h.Shop.Joints[h.Joint]
	if room, near := j.PinRoom(h.Spot); room < workshop.PinWants(h.Shop.For.Shop) {
		return Change{Words: unit.Say("%s %s", pinWords(h.Shop, room, near), backAgain)}, false
	}
	spots := pinSpots(j)
	spots[h.Item] = h.Spot
	return Change{Name: "moved pin", Hold: h.Hold, Places: placesOf(h.Shop).WithPins(j.Above, spots)}, true
}

// Remove takes the tab or pin that is held away.
func (h *Hand) Remove() (Change, bool) {
	p := placesOf(h.Shop)
	if h.What == Tab {
		of, _ := h.Shop.Part(h.Part)
		spots := tabSpots(of)
		if len(spots) < 2 {
			return Change{Words: unit.Say("A part needs at least one tab: else nothing holds it while it is carved.")}, false
		}
		return Change{Name: "tab taken away", Places: p.WithTabs(h.Part, slices.Delete(spots, h.Item, h.Item+1))}, true
	}
	j := &h.Shop.Joints[h.Joint]
	spots := pinSpots(j)
	if len(spots) < 2 {
		return Change{Words: unit.Say("The last pin of a joint stays: set the pins' diameter to 0 for none at all.")}, false
	}
	return Change{Name: "pin taken away", Places: p.WithPins(j.Above, slices.Delete(spots, h.Item, h.Item+1))}, true
}

// Add adds a tab or a pin at a place of a panel.
func Add(v *workshop.Workshop, what Kind, number int, p geom.Vec2) (Change, bool) {
	h, found := nearest(v, number, p)
	if !found {
		return Change{Words: unit.Say("Click on a part, or beside its edge.")}, false
	}
	spot := h.At.Back(p)
	if what == Tab {
		of, _ := v.Part(h.Part)
		t, ok := v.NearestTab(h.Part, spot)
		if !ok {
			return Change{Words: unit.Say(noTab)}, false
		}
		return Change{Name: "another tab", Places: placesOf(v).WithTabs(h.Part, append(tabSpots(of), t.At))}, true
	}
	best, room, near := -1, -1.0, workshop.JointEdge
	for i := range v.Joints {
		if j := &v.Joints[i]; j.Above == h.Part.Layer || j.Contact.Below == h.Part.Layer {
			if r, n := j.PinRoom(spot); r > room && j.Depth > 0 {
				best, room, near = i, r, n
			}
		}
	}
	if best < 0 || room < workshop.PinWants(v.For.Shop) {
		return Change{Words: pinWords(v, max(0, room), near)}, false
	}
	j := &v.Joints[best]
	return Change{Name: "another pin", Places: placesOf(v).WithPins(j.Above, append(pinSpots(j), spot)),
		Words: unit.Say("A pin more between layers %d and %d.", j.Contact.Below, j.Above)}, true
}

// Turn turns the part that is held about its middle as its grain allows. It reports whether the part was where it was taken,
// and may lie turned there; else the words say why not.
func (h *Hand) Turn() (settled bool, words unit.Said) {
	of, ok := h.Shop.Part(h.Part)
	if !ok {
		return false, unit.Said{}
	}
	box := of.Shadow.Box()
	middle := box.Min.Add(box.Max).Scale(0.5)
	was, next, begun := h.At.Apply(middle), h.At, h.Hold == h.From
	next.TurnDeg = (next.TurnDeg + 180) % 360
	next.At = next.At.Add(was.Sub(next.Apply(middle)))
	h.At = next
	fits, hits := h.Shop.Fits(h.Number, next)
	if !fits {
		words = unit.Say("%s Move it to a free place; Enter lets it go.", hitWords(h.Part, hits))
	}
	return fits && begun && h.Keys, words
}

// Lock locks a part where it lies, or lets it go.
func Lock(v *workshop.Workshop, id panel.ID) (c Change, ok bool) {
	h, laid := Laid(v, id)
	if !laid {
		return c, false
	}
	h.At.Locked = !h.At.Locked
	p, err := v.Put(h.Number, h.At)
	if err != nil {
		return Change{Words: unit.Say("%s.", unit.Told(err))}, false
	}
	if !h.At.Locked {
		return Change{Name: "unlock", Places: p, Hold: h, Words: unit.Say("%s is laid out anew with the rest.", PartWords(id))}, true
	}
	return Change{Name: "lock", Places: p, Hold: h, Words: unit.Say("%s stays here when the rest is laid out anew.", PartWords(id))}, true
}

func placesOf(v *workshop.Workshop) job.Places { return v.Places.PlacesOf(v.Layout) }

func tabSpots(p *workshop.Part) []geom.Vec2 {
	out := make([]geom.Vec2, len(p.Tabs))
	for i, t := range p.Tabs {
		out[i] = t.At
	}
	return out
}

func pinSpots(j *workshop.Joint) []geom.Vec2 {
	out := make([]geom.Vec2, len(j.Pins))
	for i, p := range j.Pins {
		out[i] = p.At
	}
	return out
}
