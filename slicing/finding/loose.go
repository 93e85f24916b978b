package finding

import (
	"fmt"

	"grainstack/slicing/phrase"
)

// parts names parts by layer and number, the first few.
func (t teller) parts() string {
	text := ""
	for i, p := range t.Places {
		switch {
		case i == mostTold && len(t.Places) > mostTold+1:
			return text + fmt.Sprintf(" and %d more", len(t.Places)-mostTold)
		case i > 0 && i == len(t.Places)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		text += fmt.Sprintf("layer %d, part %d", p.Layer, p.Part)
	}
	return text
}

// joints names joints by the layers that meet there.
func (t teller) meeting() string {
	if t.n() > 1 {
		return fmt.Sprintf("the joints under %s", t.in())
	}
	return fmt.Sprintf("layers %d and %d", t.Layer()-1, t.Layer())
}

func drops(t teller) string {
	if t.many() {
		return phrase.Capital(t.parts()) + " touch neither the layer below nor the one above: they stay loose."
	}
	return phrase.Capital(t.parts()) + " touches neither the layer below nor the one above: it stays loose."
}

func apart(t teller) string {
	if t.many() {
		return "At " + t.meeting() + " layers don't touch: nothing holds them together."
	}
	return phrase.Capital(t.meeting()) + " don't touch: nothing holds them together."
}

func unheld(t teller) string {
	return fmt.Sprintf("Nothing holds a part of %s: its outline has no place for a tab of %s.", t.in(), t.len(t.Figures[0]))
}

func crowded(t teller) string {
	return fmt.Sprintf("A part of %s lies so near its neighbours that too little of the panel is left for its tabs to stand on.", t.in())
}

func heldThin(t teller) string {
	return fmt.Sprintf("A part of %s is held badly: its wood is too thin for tabs, of which the weakest keeps %.0f %% of its section.", t.in(), 100*t.Figures[0]/max(t.Figures[1], 1e-9))
}

func heldBadly(t teller) string {
	return fmt.Sprintf("A part of %s is held badly: no tabs of %s can stand on all its sides.", t.in(), t.len(t.Figures[0]))
}

func loosePart(t teller) string {
	if t.many() {
		return fmt.Sprintf("%d parts of %s are small in plan, down to %s: they may come loose when the second side is carved.", t.n(), t.in(), t.worst())
	}
	return fmt.Sprintf("A part of %s is only %s in plan: it may come loose when the second side is carved.", t.in(), t.worst())
}

func neck(t teller) string {
	if t.many() {
		return fmt.Sprintf("At %d necks of parts of %s halves hang together by little, down to %s: they may break when the second side is carved.", t.n(), t.in(), t.worst())
	}
	return fmt.Sprintf("Two halves of a part of %s hang together by a neck of about %s: it may break when the second side is carved.", t.in(), t.worst())
}

func splinter(t teller) string {
	where := ""
	if p := t.Worst(); p.Panel > 0 {
		where = fmt.Sprintf(", most of it at %s, %s on panel %d", t.len(p.More[0]), t.len(p.More[1]), p.Panel)
	}
	return fmt.Sprintf("At %d %s of %s wood that hangs on by less than %s, or that the hollow cuts free, comes off while it is carved: %s%s.",
		t.n(), phrase.Plural(t.n(), "place", "places"), t.in(), t.len(t.Figures[0]), t.all(), where)
}

func hanging(t teller) string {
	if t.many() {
		return phrase.Capital(t.parts()) + " have nothing beneath them."
	}
	return phrase.Capital(t.parts()) + " has nothing beneath it."
}

func hangingDo(t teller) string {
	if t.many() {
		return "Glue each to the layer above it first, both upside down, and let it hang from there."
	}
	return fmt.Sprintf("Glue it to layer %d first, both upside down, and let it hang from there.", t.Layer()+1)
}

func thinRing(t teller) string {
	return fmt.Sprintf("The ring of wood to be glued is down to %s in %s.", t.worst(), t.in())
}

func thinRingDo(t teller) string {
	return fmt.Sprintf("Take a thicker wall, or want less than %s.", t.len(t.Figures[0]))
}

func thinRim(t teller) string {
	return fmt.Sprintf("At %s the rim is %s wide at its narrowest, less than the %s wanted for a joint.", t.meeting(), t.worst(), t.len(t.Figures[0]))
}

func weakJoint(t teller) string {
	wanted := t.measured(areas, t.Figures[0])
	if t.many() {
		return fmt.Sprintf("At %d places layers meet on less than the %s wanted, down to %s.", t.n(), wanted, t.worst())
	}
	p, part := t.Worst(), ""
	if p.Part > 0 {
		part = fmt.Sprintf(", part %d,", p.Part)
	}
	return fmt.Sprintf("Layers %d and %d%s meet on %s only, less than the %s wanted.", p.Layer-1, p.Layer, part, t.worst(), wanted)
}
