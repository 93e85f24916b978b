package card

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// NewPanels is the card of what the boards are sawn to.
func NewPanels(b Bench) *Card {
	rows := append(sizeRows(b),
		(&note{Ink: paper.Ink, Text: verdict}).on(),
		(&presses{Each: []press{{Name: "Panel sheet", Do: func(State) { b.Run("sheet Panels") }}, {Name: "Saw plan", Do: func(State) { b.Run("sheet Saw plan") }}}}).on(),
		figure(b, "edge", nil),
	)
	for _, of := range []func(Bench) []row{boardRows, clampRows, dowelRows, holdRows} {
		rows = append(rows, of(b)...)
	}
	return newCard(8, "Panels", panelsLine, rows...)
}

// sizeRows are the panel's size and what parts keep off one another.
func sizeRows(b Bench) []row {
	sizes := func(c *stock.Catalogue) []option {
		var listed []option
		for _, p := range c.Panels {
			listed = append(listed, option{Key: p.Key, Name: p.Name})
		}
		return append([]option{{Name: "own size"}}, marked("panel", listed, c)...)
	}
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
		figure(b, "panel-length", nil), figure(b, "panel-width", nil), figure(b, "clearance", nil), figure(b, "safe-height", nil),
	}
}

// boardRows are how boards are sawn and what they cost.
func boardRows(b Bench) []row {
	return []row{
		heading("Boards"),
		figure(b, "saw-cut", nil), figure(b, "trim", nil),
		priceOf(b, "board price", "what boards cost", func(s State) string { return s.Settings.Board }),
		newOtherPrices(b),
	}
}

// dowelRows are what a panel is turned over by.
func dowelRows(b Bench) []row {
	return []row{
		heading("Register dowels"),
		pick(b, "dowel-axis", nil), pick(b, "dowel-seat", nil),
		figure(b, "dowel", nil), figure(b, "dowel-depth", nil), figure(b, "dowel-inset", nil),
	}
}

// holdRows are what holds parts in their panel, and layers to one another.
func holdRows(b Bench) []row {
	return []row{
		heading("Tabs"),
		figure(b, "tab-width", nil), figure(b, "tab-thickness", nil), figure(b, "tab-distance", nil),
		heading("Alignment pins"),
		figure(b, "pin", nil), figure(b, "pin-depth", nil), figure(b, "pin-cover", nil),
		(&note{Ink: paper.Pencil, Text: func(State) string {
			return "Tabs and pins are moved on the panel sheet. Panels are heavy and edges sharp: lift with help, and clamp before you cut. Local rules come first."
		}}).on(),
	}
}

// heading is a word above a group of rows.
func heading(words string) row {
	h := &headingRow{container.New(layout.NewCustomPaddedLayout(8, 0, inset, 0), paper.Write(words, paper.Small, paper.Pencil).Bold())}
	return h
}

type headingRow struct{ o fyne.CanvasObject }

func (h *headingRow) object() fyne.CanvasObject { return h.o }
func (h *headingRow) show(State)                {}

// verdict says whether the largest part fits the panel.
func verdict(s State) string {
	f := s.Figures
	if f == nil || s.Stale || !f.Withheld.None() || len(f.Layers) == 0 {
		return ""
	}
	if v := s.Workshop; v != nil && v.Withheld.None() {
		return laidOut(s, v)
	}
	t := f.Totals
	line := fmt.Sprintf("The largest part, layer %d, is %s × %s: ", t.LargestLayer, unit.Length(t.Largest.X, s.View.Units), unit.Length(t.Largest.Y, s.View.Units))
	if !t.FitsPanel {
		return line + "it does not fit the panel."
	}
	return line + "it fits. " + phrase.Count(t.Panels, "panel") + " (estimate)."
}

// laidOut says what the layout comes to.
func laidOut(s State, v *workshop.Workshop) string {
	if n := len(v.Layout.TooLarge); n > 0 {
		return fmt.Sprintf("%d of %d parts lie on no panel, since they are too large: see the panel sheet.", n, len(v.Parts))
	}
	tabs := 0
	for _, p := range v.Parts {
		tabs += len(p.Tabs)
	}
	boards, cost := v.Boards.Count(), v.Boards.Cost()
	line := fmt.Sprintf("%s on %s from %s; %s.", phrase.Count(len(v.Parts), "part"), phrase.Count(v.Panels(), "panel"), phrase.Count(boards, "board"), phrase.Count(tabs, "tab"))
	if cost > 0 {
		line += fmt.Sprintf(" The boards cost %.2f.", cost)
	}
	return line
}

func panelsLine(s State) string {
	line := unit.Length(s.Settings.PanelX, s.View.Units) + " × " + unit.Length(s.Settings.PanelY, s.View.Units)
	switch f := s.Figures; {
	case f == nil || !f.Withheld.None() || s.Stale:
	case s.Workshop != nil && s.Workshop.Withheld.None() && len(s.Workshop.Layout.TooLarge) == 0:
		line += " · " + phrase.Count(s.Workshop.Panels(), "panel") + ", " + phrase.Count(s.Workshop.Boards.Count(), "board")
	case !f.Totals.FitsPanel:
		line += " · the largest part does not fit"
	default:
		line += " · " + phrase.Count(f.Totals.Panels, "panel") + " (estimate)"
	}
	return line
}
