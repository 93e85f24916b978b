package view

import (
	"slices"

	"grainstack/app/edit"
	"grainstack/app/files"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// A panelKey is what the panel under a moving hand depends on, a partKey what the part in it does.
type panelKey struct {
	shop   *workshop.Workshop
	number int
	lifted panel.ID
	lift   bool
}

type partKey struct {
	shop *workshop.Workshop
	part panel.ID
	turn int
	lock bool
}

// panelView is the panel with what is in the hand, and what came of that.
func (d *shopDrafter) panelView(a ShopAsk) (sheet.PanelView, edit.Held) {
	h := a.Hold
	key := panelKey{shop: a.Shop, number: a.At, lift: h.What == edit.Part}
	if key.lift {
		key.lifted = h.Part
	}
	v, i := withPanel(a.Shop, key)
	if key != d.base {
		d.base, d.view = key, withTurned(files.PanelView(v, i, panel.ID{}), a.Shop)
	}
	on := v.Layout.Panels[i].Placed
	view := d.view
	view.Parts = slices.Clone(view.Parts)
	for k, q := range on {
		if q.Part.Layer == a.picked && view.Picked == 0 && k < len(view.Parts) {
			view.Picked = k + 1
		}
	}
	switch h.What {
	case edit.Part:
		return d.withPart(view, a, on)
	case edit.Tab:
		return withTab(view, a, on)
	case edit.Pin:
		return withPin(view, a, on)
	}
	return view, edit.Held{}
}

// withPart is a view with the part in the hand, last of all parts.
func (d *shopDrafter) withPart(view sheet.PanelView, a ShopAsk, on []panel.Placed) (sheet.PanelView, edit.Held) {
	var out edit.Held
	h := a.Hold
	if key := (partKey{a.Shop, h.Part, h.At.TurnDeg, h.At.Locked}); key != d.part {
		of, ok := a.Shop.Part(h.Part)
		if !ok {
			return view, out
		}
		d.part, d.lifted = key, files.PartView(a.Shop, of, panel.Placed{Part: h.Part, TurnDeg: h.At.TurnDeg, Locked: h.At.Locked})
	}
	if h.Any {
		out.Free, out.OK = edit.Free(a.Shop, a.At, h.At)
		h.At = out.Free
	} else {
		out.OK, out.Hits = a.Shop.Fits(a.At, h.At)
	}
	view.Parts = append(view.Parts, shifted(d.lifted, h.At.At))
	view.Picked = len(view.Parts)
	redden(&view, on, out.Hits)
	return view, out
}

// withTab is a view with the tab in the hand where its part takes it.
func withTab(view sheet.PanelView, a ShopAsk, on []panel.Placed) (sheet.PanelView, edit.Held) {
	var out edit.Held
	h := a.Hold
	for k, q := range on {
		if t, ok := a.Shop.NearestTab(h.Part, h.Spot); q.Part == h.Part && ok && h.Item < len(view.Parts[k].Tabs) {
			out.OK = true
			tabs := slices.Clone(view.Parts[k].Tabs)
			tabs[h.Item].At, tabs[h.Item].Out, tabs[h.Item].Picked = q.Apply(t.At), q.Apply(t.Out).Sub(q.At), true
			view.Parts[k].Tabs = tabs
		}
	}
	return view, out
}

// withPin is a view with the pin in the hand, in both parts that it joins.
func withPin(view sheet.PanelView, a ShopAsk, on []panel.Placed) (sheet.PanelView, edit.Held) {
	var out edit.Held
	h := a.Hold
	j := &a.Shop.Joints[h.Joint]
	was := j.Pins[h.Item].At
	s := a.Shop.For.Shop
	out.Room, out.Near = j.PinRoom(h.Spot)
	out.OK = out.Room >= workshop.PinWants(s)
	for k, q := range on {
		pins := slices.Clone(view.Parts[k].Pins)
		for n := range pins {
			if pins[n].At == q.Apply(was) {
				pins[n] = sheet.Peg{At: q.Apply(h.Spot), Diameter: s.PinDiameter, Picked: true, Clash: !out.OK}
			}
		}
		view.Parts[k].Pins = pins
	}
	return view, out
}

// withTurned is a view with what clamps cover while the panel is turned over: parts keep off that, too.
func withTurned(view sheet.PanelView, v *workshop.Workshop) sheet.PanelView {
	for _, c := range v.ClampSpots() {
		if c.Turned {
			view.Clamps = append(view.Clamps, sheet.PanelClamp{Box2: c.Box2, Number: c.Number, Over: true})
		}
	}
	return view
}

// redden marks what the last part of a view collides with, and the part itself.
func redden(view *sheet.PanelView, on []panel.Placed, hits []panel.Hit) {
	view.Parts[len(view.Parts)-1].Clash = len(hits) > 0
	for _, hit := range hits {
		switch hit.Kind {
		case panel.AnotherPart:
			for k, q := range on {
				view.Parts[k].Clash = view.Parts[k].Clash || q.Part == hit.Part
			}
		case panel.PanelEdge:
			view.EdgeClash = true
		case panel.Clamp:
			view.Clamps = slices.Clone(view.Clamps)
			for k, c := range view.Clamps {
				view.Clamps[k].Clash = c.Clash || c.Number == hit.Item+1 && c.Over == hit.Over
			}
		case panel.RegisterDowel:
			view.Dowels = slices.Clone(view.Dowels)
			view.Dowels[hit.Item].Clash = true
		}
	}
}

// withPanel is a workshop in which there is a panel of a number, without the part that is lifted off, and the panel's place.
func withPanel(v *workshop.Workshop, key panelKey) (*workshop.Workshop, int) {
	out := *v
	out.Layout.Panels = slices.Clone(v.Layout.Panels)
	i := slices.IndexFunc(out.Layout.Panels, func(p panel.Panel) bool { return p.Number == key.number })
	if i < 0 {
		i = len(out.Layout.Panels)
		out.Layout.Panels = append(out.Layout.Panels, panel.Panel{Number: key.number})
	}
	if p := &out.Layout.Panels[i]; key.lift {
		p.Placed = slices.DeleteFunc(slices.Clone(p.Placed), func(q panel.Placed) bool { return q.Part == key.lifted })
	}
	return &out, i
}

// shifted is a part's view moved on its panel.
func shifted(p sheet.PanelPart, by geom.Vec2) sheet.PanelPart {
	region := func(g geom.Region) geom.Region { return g.Map(by.Add) }
	p.Outline, p.Core, p.Boundary = region(p.Outline), region(p.Core), region(p.Boundary)
	p.Tabs, p.Pins = slices.Clone(p.Tabs), slices.Clone(p.Pins)
	for i := range p.Tabs {
		p.Tabs[i].At = p.Tabs[i].At.Add(by)
	}
	for i := range p.Pins {
		p.Pins[i].At = p.Pins[i].At.Add(by)
	}
	return p
}
