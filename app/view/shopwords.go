package view

import (
	"fmt"
	"math"

	"grainstack/app/edit"
	"grainstack/app/state"
	"grainstack/slicing/glue"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// AddWords say what a click on the panel sheet will add.
func AddWords(what edit.Kind) string {
	if what == edit.Tab {
		return "Click beside the edge where a tab shall stand · Escape leaves it"
	}
	return "Click where a pin shall stand · Escape leaves it"
}

// panelWords are the line above the panel sheet and those below it, while a panel is shown.
func panelWords(b *state.Bench, v *workshop.Workshop, on int, adding edit.Kind) (caption, facts string) {
	u := b.View.Units
	parts := len(edit.PlacedOn(v, on))
	caption = fmt.Sprintf("Panel %d of %d · ", on, max(v.Panels(), on))
	if parts == 0 {
		caption += "empty"
	}
	for _, p := range v.Layout.Panels {
		if p.Number == on {
			caption += fmt.Sprintf("%d %s · %.0f %% used", parts, phrase.Plural(parts, "part", "parts"), p.UsedPercent)
		}
	}
	if adding != edit.Nothing {
		return caption, AddWords(adding)
	}
	id, ok := b.Shop.Picked(v)
	of, known := v.Part(id)
	if !ok || !known {
		return caption, ""
	}
	size := of.Shadow.Box().Size()
	facts = fmt.Sprintf("%s · %s × %s · ", edit.PartWords(id), unit.Length(size.X, u), unit.Length(size.Y, u))
	number, at, laid := v.Layout.Find(id)
	switch {
	case !laid:
		facts += "too large for the panel"
	case number != on:
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

// pressing is a step of the glue-up by its number.
func pressing(v *workshop.Workshop, number int) (p glue.Pressing, stage int, ok bool) {
	for _, s := range v.GlueUp.Stages {
		for _, p := range s.Pressings {
			if p.Number == number {
				return p, s.Number, true
			}
		}
	}
	return p, 0, false
}

// layerRun names a run of layers.
func layerRun(g glue.Group) string {
	if g.First == g.Last {
		return fmt.Sprintf("layer %d", g.First)
	}
	return fmt.Sprintf("layers %d to %d", g.First, g.Last)
}

// glueWords are the line above the glue-up sheet and those below it.
func glueWords(b *state.Bench, v *workshop.Workshop, at int) (caption, facts string) {
	u := b.View.Units
	plan := v.GlueUp
	p, stage, ok := pressing(v, at)
	switch {
	case !ok && plan.Pressings == 0 && len(v.Seams) == 0:
		return "Glue-up · one layer", "Nothing has to be glued."
	case !ok:
		caption = fmt.Sprintf("Glue-up · %d %s in %d %s", plan.Pressings, phrase.Plural(plan.Pressings, "joint", "joints"), len(plan.Stages), phrase.Plural(len(plan.Stages), "stage", "stages"))
		return caption, fmt.Sprintf("%s of glue · up to %s · %s with the waiting for the clamps", unit.Mass(plan.WetG, u), phrase.Count(plan.Clamps, "clamp"), unit.Duration(plan.Minutes))
	}
	g, _ := v.For.GlueIn(b.Shelf.Now)
	caption = fmt.Sprintf("Glue-up · step %d of %d, stage %d", at, plan.Pressings, stage)
	facts = fmt.Sprintf("%s onto %s · %s of glue on %s · %s, %.1f kN in all · closed within %.0f min of %.0f",
		phrase.Capital(layerRun(p.Upper)), layerRun(p.Lower), unit.Mass(p.Joint.WetG, u), unit.Area(p.Joint.Area, u), phrase.Count(p.Joint.Clamps, "clamp"), p.Joint.ForceN/1000,
		math.Ceil(p.CloseMin), g.OpenMin)
	facts += " · " + liftWords(p, u)
	return caption, facts
}

// liftWords say what is lifted and by how many.
func liftWords(p glue.Pressing, u unit.System) string {
	words := "lift " + unit.Mass(p.Upper.MassG, u)
	switch {
	case p.People == 0:
		words += ", not by hand"
	case p.People > 1:
		words += fmt.Sprintf(", %d people", p.People)
	}
	return words
}

// sawWords are the line above the saw plan and those below it.
func sawWords(v *workshop.Workshop, at int, u unit.System) (caption, facts string) {
	left := at
	for _, kind := range v.Boards {
		if left < 1 || left > len(kind.Saw.Boards) {
			left -= len(kind.Saw.Boards)
			continue
		}
		b := kind.Saw.Boards[left-1]
		caption = fmt.Sprintf("Board %d of %d · %d %s, %d %s", at, v.Boards.Count(), len(b.Panels), phrase.Plural(len(b.Panels), "panel", "panels"), len(b.Cuts), phrase.Plural(len(b.Cuts), "cut", "cuts"))
		facts = fmt.Sprintf("%s · saw cut %s", kind.Board.Name, unit.Length(kind.Sheet.Kerf, u))
		if len(b.Offcuts) > 0 {
			size := b.Offcuts[0].Size()
			facts += fmt.Sprintf(" · largest offcut %s × %s", unit.Length(size.X, u), unit.Length(size.Y, u))
		}
		if kind.Saw.Cost > 0 {
			facts += fmt.Sprintf(" · %.2f in all of this board", kind.Saw.Cost)
		}
		return caption, facts
	}
	return "Saw plan", ""
}

// noShop says why there is no workshop to show, "" where there is one.
func noShop(b *state.Bench) string {
	v := b.Shop.Last
	switch {
	case !b.Figures.Withheld.None():
		return b.Figures.Withheld.In(b.View.Units)
	case b.Shop.Fault() != "":
		return b.Shop.Fault()
	case v != nil && !v.Withheld.None():
		return v.Withheld.In(b.View.Units)
	case v != nil:
		return ""
	case b.Shop.Off():
		return "Laying the parts out was left. Press A to begin again."
	}
	return "The parts are being laid out …"
}
