package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// Wall is the card of the hollow.
func Wall(b Bench) *Card {
	solid := func(s State) bool { return s.Settings.Wall == 0 }
	return newCard(5, "Wall", wallLine,
		(&measure{Name: "wall", Moves: "weight; 0 is solid", Kind: Length, Step: 0.5, Least: 0, Most: 60, Low: 15, High: 30,
			Value: func(s State) float64 { return s.Settings.Wall },
			Set:   func(s State, v float64) job.Settings { s.Settings.Wall = v; return s.Settings }}).on(b),
		(&choice{Name: "core", Options: []option{{"carved", "carved, follows the outside"}, {"straight", "straight-sided pockets"}},
			Value: func(s State) string { return s.Settings.Core.String() },
			Set: func(s State, key string) job.Settings {
				s.Settings.Core = job.Carved
				if key == job.Straight.String() {
					s.Settings.Core = job.Straight
				}
				return s.Settings
			}}).on(b),
		(&measure{Name: "solid below", Moves: "layers at the foot", Kind: Count, Step: 1, Least: 0, Most: 20, Low: 1, High: 2, Off: solid,
			Value: func(s State) float64 { return float64(s.Settings.CapBottom) },
			Set:   func(s State, v float64) job.Settings { s.Settings.CapBottom = int(v); return s.Settings }}).on(b),
		(&measure{Name: "solid above", Moves: "layers at the top", Kind: Count, Step: 1, Least: 0, Most: 20, Low: 1, High: 2, Off: solid,
			Value: func(s State) float64 { return float64(s.Settings.CapTop) },
			Set:   func(s State, v float64) job.Settings { s.Settings.CapTop = int(v); return s.Settings }}).on(b),
		(&measure{Name: "rim wanted", Moves: "joints to look at", Kind: Length, Step: 0.5, Least: 0, Most: 60, Low: 10, High: 25, Off: solid,
			Value: func(s State) float64 { return s.Settings.RimWanted },
			Set:   func(s State, v float64) job.Settings { s.Settings.RimWanted = v; return s.Settings }}).on(b),
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
	case f.Withheld != "":
		return "A wall needs a solid: " + f.Withheld
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
	if f := s.Figures; f != nil && f.CoreKnown && f.Withheld == "" && f.Totals.SavedKg > 0 {
		line += " · saves " + unit.Mass(f.Totals.SavedKg*1000, s.View.Units)
	}
	return line
}
