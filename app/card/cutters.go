package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Cutters is the card of the router: its bits, how they are run, the machine.
func Cutters(b Bench, own OwnCutters) *Card {
	machines := stocked("machine", func(c *stock.Catalogue) []stock.Machine { return c.Machines }, func(o stock.Machine) option { return option{o.Key, o.Name} })
	rows := []row{(&choice{Name: "machine", List: machines, Value: func(s State) string { return s.Settings.Machine },
		Set: func(s State, key string) job.Settings { s.Settings.Machine = key; return s.Settings }}).on(b)}
	rows = append(rows, pass(b, "rough", func(s *job.Settings) *job.CutterUse { return &s.Rough })...)
	rows = append(rows, pass(b, "finish", func(s *job.Settings) *job.CutterUse { return &s.Fine })...)
	rows = append(rows, (&note{Ink: paper.Ink, Text: cuspWords}).on(), (&note{Ink: paper.Pencil, Text: coarserWords}).on(), (&note{Ink: paper.Pencil, Text: chipWords}).on())
	rows = append(rows, newOwn(own))
	rows = append(rows, (&note{Ink: paper.Pencil, Text: func(State) string {
		return "Wear eye, ear and dust protection; clamp the panel; keep clear of the spinning cutter. Local rules and the makers' data sheets come first."
	}}).on())
	return newCard(7, "Cutters", cuttersLine, rows...)
}

// runs is one figure of how a cutter is run: the maker's own where it is set, the catalogue's otherwise.
type runs struct {
	name, moves string
	kind        Kind
	step        float64
	least, most float64
	low, high   float64
	own         func(*job.CutterUse) *float64
	usual       func(stock.Cutter) float64
	onlyRough   bool
}

func runTable() []runs {
	return []runs{
		{"feed", "hours", Speed, 50, 50, 12000, 800, 4000, func(u *job.CutterUse) *float64 { return &u.FeedMmMin }, func(c stock.Cutter) float64 { return c.FeedMmMin }, false},
		{"plunge", "hours", Speed, 50, 20, 6000, 200, 1200, func(u *job.CutterUse) *float64 { return &u.PlungeMmMin }, func(c stock.Cutter) float64 { return c.PlungeMmMin }, false},
		{"stepdown", "rough hours", Length, 0.1, 0.1, 25, 1, 6, func(u *job.CutterUse) *float64 { return &u.Stepdown }, func(c stock.Cutter) float64 { return c.Stepdown }, true},
		{"stepover", "hours, ridges", Length, 0.05, 0.05, 12, 0.2, 3, func(u *job.CutterUse) *float64 { return &u.Stepover }, func(c stock.Cutter) float64 { return c.Stepover }, false},
		{"speed", "each edge's chip", Turns, 500, 1000, 40000, 10000, 24000, func(u *job.CutterUse) *float64 { return &u.RPM }, func(c stock.Cutter) float64 { return c.RPM }, false},
	}
}

// pass are the rows of one pass.
func pass(b Bench, name string, use func(*job.Settings) *job.CutterUse) []row {
	bits := stocked("cutter", func(c *stock.Catalogue) []stock.Cutter { return c.Cutters }, func(o stock.Cutter) option { return option{o.Key, o.Name} })
	rows := []row{(&choice{Name: name, List: bits,
		Value: func(s State) string { return use(&s.Settings).Key },
		Set: func(s State, key string) job.Settings {
			*use(&s.Settings) = job.CutterUse{Key: key}
			return s.Settings
		}}).on(b)}
	for _, r := range runTable() {
		if r.onlyRough && name != "rough" {
			continue
		}
		rows = append(rows, (&measure{Name: r.name, Moves: r.moves, Kind: r.kind, Step: r.step, Least: r.least, Most: r.most, Low: r.low, High: r.high,
			Log: r.kind != Length,
			Value: func(s State) float64 {
				u := use(&s.Settings)
				if own := *r.own(u); own > 0 {
					return own
				}
				c, _ := s.Catalogue.Cutter(u.Key)
				return r.usual(c)
			},
			Set: func(s State, v float64) job.Settings {
				*r.own(use(&s.Settings)) = v
				return s.Settings
			}}).as(name+" "+r.name).on(b))
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
	if f == nil || f.Withheld != "" || !f.CoreKnown || s.Stale {
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
	fine, _ := s.Catalogue.Cutter(s.Settings.Fine.Key)
	step := s.Settings.Fine.Stepover
	if step <= 0 {
		step = fine.Stepover
	}
	return fmt.Sprintf("rough %s · finish %s, every %s", rough.Name, fine.Name, unit.Length(step, s.View.Units))
}
