package edit

import (
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

const noTab = "This part has no place for a tab."

// Words say what is in the way of what is held.
func (h *Hand) Words(of Held) unit.Said {
	switch {
	case h.What == Pin && !of.OK:
		return pinWords(h.Shop, of.Room, of.Near)
	case h.What == Pin:
		return unit.Say("%s of wood from the pin's middle to %v, %s are wanted.", unit.Mm(of.Room), of.Near, unit.Mm(workshop.PinWants(h.Shop.For.Shop)))
	case h.What == Tab && !of.OK:
		return unit.Say(noTab)
	case h.What == Tab:
		return unit.Say("The tab goes to the nearest place where it can stand.")
	case h.Any && of.OK:
		return unit.Say("Let go, and %s lies on panel %d, where there is room.", h.Part, h.Number)
	case h.Any:
		return unit.Say(noRoom, h.Number, h.Part)
	case of.OK && h.Keys:
		return unit.Say("%s may lie here · arrow keys move it, with shift finely · R turns it · Enter lets it go, Escape puts it back", PartWords(h.Part))
	case of.OK:
		return unit.Say("%s may lie here.", PartWords(h.Part))
	}
	return hitWords(h.Part, of.Hits)
}

// WordsUnder say what can be done with what lies under the hand.
func (h Hold) WordsUnder(v *workshop.Workshop) unit.Said {
	switch h.What {
	case Part:
		return unit.Say("%s · drag it, up onto a panel's number to take it there · R turns it", PartWords(h.Part))
	case Tab:
		return unit.Say("Tab %d of %v · drag it along the edge", h.Item+1, h.Part)
	}
	j := v.Joints[h.Joint]
	return unit.Say("Pin between layers %d and %d, %s deep in each · drag it", j.Contact.Below, j.Above, unit.Mm(j.Depth))
}

// hitWords name everything that a part collides with.
func hitWords(id panel.ID, hits []panel.Hit) unit.Said {
	text := unit.Say("%s", PartWords(id))
	for i, h := range hits {
		if h.Kind == panel.Grain {
			return unit.Say("%s: its grain has to run with the panel's.", text)
		}
		before := ""
		if i > 0 {
			before = ","
		}
		if h.Gap > 0 {
			before += " is"
		}
		text = unit.Say("%s%s %s", text, before, h.Words())
	}
	return unit.Say("%s.", text)
}

// PartWords name a part at the beginning of a sentence.
func PartWords(id panel.ID) string { return phrase.Capital(id.String()) }

// pinWords say why a pin can't stand somewhere.
func pinWords(v *workshop.Workshop, room float64, near workshop.PinNear) unit.Said {
	if room <= 0 {
		return unit.Say("Here a pin would come out at %v.", near)
	}
	return unit.Say("Here a pin has %s of wood from its middle to %v and wants %s.", unit.Mm(room), near, unit.Mm(workshop.PinWants(v.For.Shop)))
}
