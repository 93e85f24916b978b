package card

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Panels is the card of what the boards are sawn to.
func Panels(b Bench) *Card {
	rows := append(sizeRows(b),
		(&note{Ink: paper.Ink, Text: verdict}).on(),
		(&presses{Each: []press{{Name: "Panel sheet", Do: func(State) { b.Run("sheet Panels") }}, {Name: "Saw plan", Do: func(State) { b.Run("sheet Saw plan") }}}}).on(),
		shopMeasure(b, "edge", "least from the panel's edge", Length, 0.5, 200, 10, 30, func(h *job.Shop) *float64 { return &h.Edge }),
	)
	for _, of := range []func(Bench) []row{boardRows, clampRows, dowelRows, holdRows} {
		rows = append(rows, of(b)...)
	}
	return newCard(8, "Panels", panelsLine, rows...)
}

// sizeRows are the panel's size and what parts keep off one another.
func sizeRows(b Bench) []row {
	listed := stocked("panel", func(c *stock.Catalogue) []stock.Panel { return c.Panels }, func(o stock.Panel) option { return option{o.Key, o.Name} })
	sizes := func(c *stock.Catalogue) []option { return append([]option{{"", "own size"}}, listed(c)...) }
	return []row{
		(&choice{Name: "panel", List: sizes,
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
	}
}

// boardRows are how boards are sawn and what they cost.
func boardRows(b Bench) []row {
	return []row{
		heading("Boards"),
		shopMeasure(b, "saw cut", "panels a board", Length, 0.1, 10, 2, 4, func(h *job.Shop) *float64 { return &h.Kerf }),
		shopMeasure(b, "trim", "off a board's edges first", Length, 0.5, 50, 0, 10, func(h *job.Shop) *float64 { return &h.Trim }),
		priceOf(b, "board price", "what boards cost", func(s State) string { return s.Settings.Board }),
		newOtherPrices(b),
	}
}

// dowelRows are what a panel is turned over by.
func dowelRows(b Bench) []row {
	return []row{
		heading("Register dowels"),
		(&choice{Name: "turned about", Options: []option{{"x", "its line along the grain"}, {"y", "its line across"}},
			Value: func(s State) string { return [2]string{"x", "y"}[s.Settings.Shop.Axis] },
			Set: func(s State, key string) job.Settings {
				s.Settings.Shop.Axis = panel.AlongX
				if key == "y" {
					s.Settings.Shop.Axis = panel.AlongY
				}
				return s.Settings
			}}).on(b),
		(&choice{Name: "they stand", Options: []option{{"line", "on that line"}, {"end", "both at one end"}},
			Value: func(s State) string { return [2]string{"line", "end"}[s.Settings.Shop.Seat] },
			Set: func(s State, key string) job.Settings {
				s.Settings.Shop.Seat = panel.OnCentreLine
				if key == "end" {
					s.Settings.Shop.Seat = panel.AtOneEnd
				}
				return s.Settings
			}}).on(b),
		shopMeasure(b, "dowel", "diameter", Length, 0.5, 20, 6, 10, func(h *job.Shop) *float64 { return &h.DowelDiameter }).atLeast(1),
		shopMeasure(b, "into the bed", "depth", Length, 0.5, 40, 8, 20, func(h *job.Shop) *float64 { return &h.DowelDepth }).atLeast(1),
		shopMeasure(b, "inset", "from the panel's edge", Length, 0.5, 100, 10, 25, func(h *job.Shop) *float64 { return &h.DowelInset }),
	}
}

// holdRows are what holds parts in their panel, and layers to one another.
func holdRows(b Bench) []row {
	return []row{
		heading("Tabs"),
		shopMeasure(b, "tab width", "hold", Length, 0.5, 40, 6, 12, func(h *job.Shop) *float64 { return &h.TabWidth }).atLeast(1),
		shopMeasure(b, "thickness", "hold; 0 a third", Length, 0.5, 20, 4, 8, func(h *job.Shop) *float64 { return &h.TabThickness }).as("tab thickness"),
		shopMeasure(b, "apart", "their number", Length, 5, 600, 100, 250, func(h *job.Shop) *float64 { return &h.TabSpacing }).as("tab distance"),
		heading("Alignment pins"),
		shopMeasure(b, "pin", "diameter; 0 for none", Length, 0.5, 20, 6, 10, func(h *job.Shop) *float64 { return &h.PinDiameter }),
		shopMeasure(b, "depth", "into each layer", Length, 0.5, 30, 8, 12, func(h *job.Shop) *float64 { return &h.PinDepth }).as("pin depth"),
		shopMeasure(b, "wood round", "where pins can stand", Length, 0.5, 20, 2, 6, func(h *job.Shop) *float64 { return &h.PinCover }).as("wood round pins"),
		(&note{Ink: paper.Pencil, Text: func(State) string {
			return "Tabs and pins are moved on the panel sheet. Panels are heavy and edges sharp: lift with help, and clamp before you cut. Local rules come first."
		}}).on(),
	}
}

// count is a number of things.
func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprint(n, " ", what)
}

// heading is a word above a group of rows.
func heading(words string) row {
	h := &headingRow{container.New(layout.NewCustomPaddedLayout(8, 0, inset, 0), paper.Write(words, paper.Small, paper.Pencil).Bold())}
	return h
}

type headingRow struct{ o fyne.CanvasObject }

func (h *headingRow) object() fyne.CanvasObject { return h.o }
func (h *headingRow) show(State)                {}

// shopMeasure is a measure of a figure of the shop, from 0 up.
func shopMeasure(b Bench, name, moves string, k Kind, step, most, low, high float64, of func(*job.Shop) *float64) *measure {
	return (&measure{Name: name, Moves: moves, Kind: k, Step: step, Most: most, Low: low, High: high,
		Value: func(s State) float64 { return *of(&s.Settings.Shop) },
		Set:   func(s State, v float64) job.Settings { *of(&s.Settings.Shop) = v; return s.Settings }}).on(b)
}

// atLeast bounds a measure from below.
func (m *measure) atLeast(v float64) *measure {
	m.Least = v
	return m
}

// verdict says whether the largest part fits the panel.
func verdict(s State) string {
	f := s.Figures
	if f == nil || s.Stale || f.Withheld != "" || len(f.Layers) == 0 {
		return ""
	}
	if v := s.Workshop; v != nil && v.Withheld == "" {
		return laidOut(s, v)
	}
	t := f.Totals
	line := fmt.Sprintf("The largest part, layer %d, is %s × %s: ", t.LargestLayer, unit.Length(t.Largest.X, s.View.Units), unit.Length(t.Largest.Y, s.View.Units))
	if !t.FitsPanel {
		return line + "it does not fit the panel."
	}
	return line + "it fits. " + count(t.Panels, "panel") + " (estimate)."
}

// laidOut says what the layout comes to.
func laidOut(s State, v *job.Workshop) string {
	if n := len(v.Layout.TooLarge); n > 0 {
		return fmt.Sprintf("%d of %d parts lie on no panel, since they are too large: see the panel sheet.", n, len(v.Parts))
	}
	tabs := 0
	for _, p := range v.Parts {
		tabs += len(p.Tabs)
	}
	boards, cost := v.BoardCount(), v.BoardCost()
	line := fmt.Sprintf("%s on %s from %s; %d tabs.", count(len(v.Parts), "part"), count(v.Panels(), "panel"), count(boards, "board"), tabs)
	if cost > 0 {
		line += fmt.Sprintf(" The boards cost %.2f.", cost)
	}
	return line
}

func panelsLine(s State) string {
	line := unit.Length(s.Settings.PanelX, s.View.Units) + " × " + unit.Length(s.Settings.PanelY, s.View.Units)
	switch f := s.Figures; {
	case f == nil || f.Withheld != "" || s.Stale:
	case s.Workshop != nil && s.Workshop.Withheld == "" && len(s.Workshop.Layout.TooLarge) == 0:
		line += " · " + count(s.Workshop.Panels(), "panel") + ", " + count(s.Workshop.BoardCount(), "board")
	case !f.Totals.FitsPanel:
		line += " · the largest part does not fit"
	default:
		line += " · " + count(f.Totals.Panels, "panel") + " (estimate)"
	}
	return line
}
