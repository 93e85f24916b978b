package card

import (
	"fmt"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// NewCutters is the card of the router: its bits, how they are run, the machine.
func NewCutters(b Bench, own OwnCutters) *Card {
	rows := []row{pick(b, "machine", nil)}
	rows = append(rows, pass(b, "rough", func(s *job.Settings) *job.CutterUse { return &s.Rough }, "feed", "plunge", "stepdown", "stepover", "speed")...)
	rows = append(rows, pass(b, "finish", func(s *job.Settings) *job.CutterUse { return &s.Fine }, "feed", "plunge", "stepover", "speed")...)
	rows = append(rows, (&note{Ink: paper.Ink, Text: cuspWords}).on(), (&note{Ink: paper.Pencil, Text: coarserWords}).on(), (&note{Ink: paper.Pencil, Text: chipWords}).on())
	rows = append(rows, newOwn(own))
	rows = append(rows, (&note{Ink: paper.Pencil, Text: func(State) string {
		return "Wear eye, ear and dust protection; clamp the panel; keep clear of the spinning cutter. Local rules and the makers' data sheets come first."
	}}).on())
	return newCard(7, "Cutters", cuttersLine, rows...)
}

// pass are the rows of one pass: its cutter, which brings its own figures along, and figures of how it is run.
func pass(b Bench, name string, use func(*job.Settings) *job.CutterUse, figures ...string) []row {
	rows := []row{pick(b, name+"-cutter", func(c *choice) {
		c.Set = func(s State, key string) job.Settings {
			*use(&s.Settings) = job.CutterUse{Key: key}
			return s.Settings
		}
	})}
	for _, one := range figures {
		rows = append(rows, figure(b, name+"-"+one, nil))
	}
	return rows
}

// cuspWords say what ridges the finish rows leave.
func cuspWords(s State) string {
	k := s.Settings.Fine.In(s.Catalogue)
	height, ok := hours.Cusp(k)
	over := unit.Length(k.Stepover, s.View.Units)
	switch {
	case !ok:
		return "Finish rows " + over + " apart lie further apart than the cutter is wide: wood stays between them."
	case height == 0:
		return "On level wood finish rows " + over + " apart leave no ridges."
	}
	return "On level wood finish rows " + over + " apart leave ridges of " + ridge(height, s.View.Units) + "; on slopes across the rows more."
}

// coarserWords say what finish rows further apart would save.
func coarserWords(s State) string {
	f := s.Figures
	if f == nil || !f.Withheld.None() || !f.CoreKnown || s.Stale {
		return ""
	}
	k, ok := f.Coarser()
	if !ok {
		return ""
	}
	u := s.View.Units
	return fmt.Sprintf("Rows every %s instead of %s would save about %s of the finish pass (estimate) and leave ridges of %s on level wood, for sanding to take off.",
		unit.Length(k.Stepover, u), unit.Length(s.Settings.Fine.In(s.Catalogue).Stepover, u), unit.Duration(k.SavesMin), ridge(k.Cusp, u))
}

// ridge is a length with enough figures for ridges.
func ridge(mm float64, u unit.System) string {
	if u == unit.Inch {
		return fmt.Sprintf("%.4f in", mm/unit.In.MM())
	}
	return fmt.Sprintf("%.3f mm", mm)
}

func cuttersLine(s State) string {
	rough, _ := s.Catalogue.Cutter(s.Settings.Rough.Key)
	fine := s.Settings.Fine.In(s.Catalogue)
	return fmt.Sprintf("rough %s · finish %s, every %s", rough.Name, fine.Name, unit.Length(fine.Stepover, s.View.Units))
}

// chipWords say where a cutter rubs or is overloaded.
func chipWords(s State) string {
	m, _ := s.Catalogue.Machine(s.Settings.Machine)
	var parts []string
	for _, use := range []job.CutterUse{s.Settings.Rough, s.Settings.Fine} {
		if chip := hours.CheckChip(use.In(s.Catalogue), m, materialOf(s)); !chip.Text.None() {
			parts = append(parts, chip.Text.In(s.View.Units))
		}
	}
	return strings.Join(parts, " ")
}
