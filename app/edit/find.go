package edit

import (
	"slices"

	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// nearBy is how near the pointer has to be to a tab, a pin or a line, in units of the screen.
const nearBy = 5.0

// discOf is the radius of the disc with a part's number, in units of the screen: it takes the part, whatever lies under it.
const discOf = 11.0

// Under is what lies at a place of a panel that is shown with so many units of the screen a mm: a pin, a tab or a part.
func Under(v *workshop.Workshop, number int, p geom.Vec2, perMM float64) (Hold, bool) {
	near := nearBy / max(1e-6, perMM)
	var part Hold
	solid := false
	for _, q := range PlacedOn(v, number) {
		of, ok := v.Part(q.Part)
		if !ok {
			continue
		}
		h := Hold{Part: q.Part, Number: number, At: q}
		s := q.Back(p)
		if sheet.Middle(of.Shadow).Sub(s).Len()*perMM < discOf {
			h.What = Part
			return h, true
		}
		for i, j := range v.Joints {
			if j.Above != q.Part.Layer && j.Contact.Below != q.Part.Layer {
				continue
			}
			for k, pin := range j.Pins {
				if pin.At.Sub(s).Len() < max(near, v.For.Shop.PinDiameter/2) && of.Shadow.Contains(pin.At) {
					h.What, h.Joint, h.Item, h.Spot = Pin, i, k, pin.At
					return h, true
				}
			}
		}
		for k, t := range of.Tabs {
			if t.At.Add(t.Out.Scale(v.Margin/2)).Sub(s).Len() < max(near, v.Margin/2) {
				h.What, h.Item, h.Spot = Tab, k, t.At
				return h, true
			}
		}
		h.What = Part
		if of.Shadow.Contains(s) {
			part, solid = h, true
		} else if !solid && part.What == Nothing && around(of.Shadow).Contains(s) {
			part = h // in its hollow, where another part may lie
		}
	}
	return part, part.What != Nothing
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

// PlacedOn are the parts on a panel of the layout.
func PlacedOn(v *workshop.Workshop, number int) []panel.Placed {
	for _, p := range v.Layout.Panels {
		if p.Number == number {
			return p.Placed
		}
	}
	return nil
}

// nearest is the part at a place of a panel, or the one whose edge is nearest.
func nearest(v *workshop.Workshop, number int, p geom.Vec2) (Hold, bool) {
	best, least := Hold{}, v.Margin+5
	for _, q := range PlacedOn(v, number) {
		of, ok := v.Part(q.Part)
		if !ok {
			continue
		}
		h := Hold{What: Part, Part: q.Part, Number: number, At: q}
		if of.Shadow.Contains(q.Back(p)) {
			return h, true
		}
		if t, ok := v.NearestTab(q.Part, q.Back(p)); ok {
			if d := t.At.Sub(q.Back(p)).Len(); d < least {
				best, least = h, d
			}
		}
	}
	return best, best.What != Nothing
}

// Laid is a part where it lies.
func Laid(v *workshop.Workshop, id panel.ID) (Hold, bool) {
	number, at, ok := v.Layout.Find(id)
	return Hold{What: Part, Part: id, Number: number, At: at}, ok
}

// Next is the next thing of the part whose thing is held where it was taken: its tabs, its pins, and then the part again.
func (h *Hand) Next() (Hold, bool) {
	of, ok := h.Shop.Part(h.Part)
	if !ok {
		return Hold{}, false
	}
	part := Hold{What: Part, Part: h.Part, Number: h.Number, At: h.At}
	all := []Hold{part}
	for i, t := range of.Tabs {
		one := part
		one.What, one.Item, one.Spot = Tab, i, t.At
		all = append(all, one)
	}
	for i, j := range h.Shop.Joints {
		for n, p := range j.Pins {
			if (j.Above == of.Layer || j.Contact.Below == of.Layer) && of.Shadow.Contains(p.At) {
				one := part
				one.What, one.Joint, one.Item, one.Spot = Pin, i, n, p.At
				all = append(all, one)
			}
		}
	}
	return all[(slices.Index(all, h.Hold)+1)%len(all)], true
}
