package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/slicing/unit"
)

// NewWall is the card of the hollow.
func NewWall(b Bench) *Card {
	solid := func(s State) bool { return s.Settings.Wall == 0 }
	held := func(m *quantity) { m.Off = solid }
	return newCard(5, "Wall", wallLine,
		figure(b, "wall", nil), pick(b, "core", nil), figure(b, "solid-below", held), figure(b, "solid-above", held), figure(b, "rim", held),
		(&note{Ink: paper.Pencil, Text: saved}).on(),
		goOn(b, func(o Off) bool { return o.Hollow }),
	)
}

// saved is what the hollow saves.
func saved(s State) string {
	f := s.Figures
	switch {
	case f == nil || s.Stale:
		return ""
	case !f.Withheld.None():
		return "A wall needs a solid: " + f.Withheld.In(s.View.Units)
	case s.Settings.Wall == 0:
		return "Solid: nothing is saved."
	case !f.CoreKnown && s.Off.Hollow:
		return "Working the hollow out was called off: the figures are those of the solid piece."
	case !f.CoreKnown:
		return "The hollow is being worked out; until then the figures are those of the solid piece."
	}
	line := "Saves " + unit.Mass(f.Totals.SavedKg*1000, s.View.Units)
	switch min := f.Totals.SavedMin; {
	case min > 0.5:
		line += " and " + unit.Duration(min) + " at the router"
	case min < -0.5:
		line += " and costs " + unit.Duration(-min) + " more at the router"
	}
	return line + " (estimate)."
}

func wallLine(s State) string {
	if s.Settings.Wall == 0 {
		return "solid"
	}
	line := fmt.Sprintf("%s · %s core · %d + %d solid", unit.Length(s.Settings.Wall, s.View.Units), s.Settings.Core, s.Settings.CapBottom, s.Settings.CapTop)
	if f := s.Figures; f != nil && f.CoreKnown && f.Withheld.None() && f.Totals.SavedKg > 0 {
		line += " · saves " + unit.Mass(f.Totals.SavedKg*1000, s.View.Units)
	}
	return line
}
