package app

import (
	"fmt"

	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// panelWords are the line above the panel sheet and those below it.
func (w *window) panelWords(v *job.Workshop) (caption, facts string) {
	u := w.session.View.Units
	on := placedOn(v, w.panels.at)
	caption = fmt.Sprintf("Panel %d of %d · ", w.panels.at, max(v.Panels(), w.panels.at))
	if len(on) == 0 {
		caption += "empty"
	}
	for _, p := range v.Layout.Panels {
		if p.Number == w.panels.at {
			caption += fmt.Sprintf("%d %s · %.0f %% used", len(on), phrase.Plural(len(on), "part", "parts"), p.UsedPercent)
		}
	}
	if w.hand.adding != nothing {
		return caption, w.margin.words.Text()
	}
	id, ok := w.pickedPart(v)
	of, known := v.Part(id)
	if !ok || !known {
		return caption, ""
	}
	size := of.Shadow.Box().Size()
	facts = fmt.Sprintf("%s · %s × %s · ", partWords(id), unit.Length(size.X, u), unit.Length(size.Y, u))
	number, at, laid := v.Layout.Find(id)
	switch {
	case !laid:
		facts += "too large for the panel"
	case number != w.panels.at:
		facts += fmt.Sprintf("on panel %d", number)
	case at.Locked:
		facts += "locked"
	default:
		facts += fmt.Sprintf("turned %d°", at.TurnDeg)
	}
	pins := 0
	for _, j := range v.Joints {
		for _, p := range j.Pins {
			if (j.Above == id.Layer || j.Contact.Below == id.Layer) && of.Shadow.Contains(p.At) {
				pins++
			}
		}
	}
	facts += fmt.Sprintf(" · %d %s, %d %s", len(of.Tabs), phrase.Plural(len(of.Tabs), "tab", "tabs"), pins, phrase.Plural(pins, "pin", "pins"))
	if !of.Held {
		facts += " · held badly"
	}
	return caption, facts
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
	return phrase.Capital(id.String())
}

func (w *window) pinWants() float64 {
	h := w.session.Settings().Shop
	return h.PinDiameter/2 + h.PinCover
}

// pinWords say why a pin can't stand somewhere.
func (w *window) pinWords(room float64, near job.PinNear) string {
	if room <= 0 {
		return fmt.Sprintf("Here a pin would come out at %v.", near)
	}
	return fmt.Sprintf("Here a pin has %.1f mm of wood from its middle to %v and wants %.1f mm.", room, near, w.pinWants())
}
