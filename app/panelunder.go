package app

import (
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

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
