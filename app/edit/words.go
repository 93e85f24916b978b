package edit

import (
	"fmt"

	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/workshop"
)

const noTab = "This part has no place for a tab."

// Words say what is in the way of what is held.
func (h *Hand) Words(of Held) string {
	switch {
	case h.What == Pin && !of.OK:
		return pinWords(h.Shop, of.Room, of.Near)
	case h.What == Pin:
		return fmt.Sprintf("%.1f mm of wood from the pin's middle to %v, %.1f mm are wanted.", of.Room, of.Near, workshop.PinWants(h.Shop.For.Shop))
	case h.What == Tab && !of.OK:
		return noTab
	case h.What == Tab:
		return "The tab goes to the nearest place where it can stand."
	case h.Any && of.OK:
		return fmt.Sprintf("Let go, and %s lies on panel %d, where there is room.", h.Part, h.Number)
	case h.Any:
		return fmt.Sprintf(noRoom, h.Number, h.Part)
	case of.OK && h.Keys:
		return PartWords(h.Part) + " may lie here · arrow keys move it, with shift finely · R turns it · Enter lets it go, Escape puts it back"
	case of.OK:
		return PartWords(h.Part) + " may lie here."
	}
	return hitWords(h.Part, of.Hits)
}

// WordsUnder say what can be done with what lies under the hand.
func (h Hold) WordsUnder(v *workshop.Workshop) string {
	switch h.What {
	case Part:
		return PartWords(h.Part) + " · drag it, up onto a panel's number to take it there · R turns it"
	case Tab:
		return fmt.Sprintf("Tab %d of %v · drag it along the edge", h.Item+1, h.Part)
	}
	j := v.Joints[h.Joint]
	return fmt.Sprintf("Pin between layers %d and %d, %.0f mm deep in each · drag it", j.Contact.Below, j.Above, j.Depth)
}

// hitWords name everything that a part collides with.
func hitWords(id panel.ID, hits []panel.Hit) string {
	text := PartWords(id)
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

// PartWords name a part at the beginning of a sentence.
func PartWords(id panel.ID) string { return phrase.Capital(id.String()) }

// pinWords say why a pin can't stand somewhere.
func pinWords(v *workshop.Workshop, room float64, near workshop.PinNear) string {
	if room <= 0 {
		return fmt.Sprintf("Here a pin would come out at %v.", near)
	}
	return fmt.Sprintf("Here a pin has %.1f mm of wood from its middle to %v and wants %.1f mm.", room, near, workshop.PinWants(v.For.Shop))
}
