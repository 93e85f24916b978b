package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Panels is the card of what the boards are sawn to.
func Panels(b Bench, c *stock.Catalogue) *Card {
	sizes := []option{{"", "own size"}}
	for _, p := range c.Panels {
		sizes = append(sizes, option{p.Key, p.Name})
	}
	return newCard(8, "Panels", panelsLine,
		(&choice{Name: "panel", Options: sizes,
			Value: func(s State) string {
				for _, p := range s.Catalogue.Panels {
					if p.X == s.Settings.PanelX && p.Y == s.Settings.PanelY {
						return p.Key
					}
				}
				return ""
			},
			Set: func(s State, key string) job.Settings {
				if p, ok := s.Catalogue.Panel(key); ok {
					s.Settings.PanelX, s.Settings.PanelY = p.X, p.Y
				}
				return s.Settings
			}}).on(b),
		(&measure{Name: "along grain", Moves: "what fits", Kind: Length, Step: 5, Least: 50, Most: 3000, Low: 300, High: 1250,
			Value: func(s State) float64 { return s.Settings.PanelX },
			Set:   func(s State, v float64) job.Settings { s.Settings.PanelX = v; return s.Settings }}).on(b),
		(&measure{Name: "across", Moves: "what fits", Kind: Length, Step: 5, Least: 50, Most: 3000, Low: 300, High: 1250,
			Value: func(s State) float64 { return s.Settings.PanelY },
			Set:   func(s State, v float64) job.Settings { s.Settings.PanelY = v; return s.Settings }}).on(b),
		(&measure{Name: "clearance", Moves: "beside the cutter", Kind: Length, Step: 0.5, Least: 0, Most: 50, Low: 1, High: 10,
			Value: func(s State) float64 { return s.Settings.Clearance },
			Set:   func(s State, v float64) job.Settings { s.Settings.Clearance = v; return s.Settings }}).on(b),
		(&measure{Name: "safe height", Moves: "hours", Kind: Length, Step: 0.5, Least: 0.5, Most: 50, Low: 3, High: 10,
			Value: func(s State) float64 { return s.Settings.SafeHeight },
			Set:   func(s State, v float64) job.Settings { s.Settings.SafeHeight = v; return s.Settings }}).on(b),
		(&note{Ink: paper.Ink, Text: verdict}).on(),
	)
}

// verdict says whether the largest part fits the panel.
func verdict(s State) string {
	f := s.Figures
	if f == nil || s.Stale || f.Withheld != "" || len(f.Layers) == 0 {
		return ""
	}
	t := f.Totals
	line := fmt.Sprintf("The largest part, layer %d, is %s × %s: ", t.LargestLayer, unit.Length(t.Largest.X, s.View.Units), unit.Length(t.Largest.Y, s.View.Units))
	if !t.FitsPanel {
		return line + "it does not fit the panel."
	}
	return line + fmt.Sprintf("it fits. %d panels (estimate).", t.Panels)
}

func panelsLine(s State) string {
	line := unit.Length(s.Settings.PanelX, s.View.Units) + " × " + unit.Length(s.Settings.PanelY, s.View.Units)
	switch f := s.Figures; {
	case f == nil || f.Withheld != "" || s.Stale:
	case !f.Totals.FitsPanel:
		line += " · the largest part does not fit"
	default:
		line += fmt.Sprintf(" · %d panels (estimate)", f.Totals.Panels)
	}
	return line
}
