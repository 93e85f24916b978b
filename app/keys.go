package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
)

// handKeys are keys that belong to a pane or a field rather than to the table.
var handKeys = [][2]string{
	{"Tab", "from one control to the next"},
	{"arrow left, right", "on a rule: one step; on the piece: turn the view"},
	{"Page up, Page down", "on a rule: ten steps; on the piece: tilt the view"},
	{"+ and −", "on the piece and the sheet: zoom"},
	{"Home", "on the sheet: fit it to its pane"},
	{"arrow up, down", "in a field: one step"},
	{"Enter, Escape", "in a field: done, or as it was"},
	{"arrow left, right", "on the sheets of the workshop: the next panel, step or board"},
	{"Enter", "on the panel sheet: take the part into the hand, and let it go"},
	{".", "on the panel sheet: its tabs and pins in turn"},
	{"arrow up, down", "on the list of what needs a look: the next place, the one before"},
	{"arrows, with shift", "with something in the hand: move it, finely"},
	{"Page up, Page down", "with a part in the hand: to another panel"},
	{controlKey + "+Shift+Z", "redo"},
}

// keyLines are all keys and what they do, in the order of the table.
func (m *menus) keyLines() [][2]string {
	var all [][2]string
	for _, c := range m.commands() {
		if k := c.keys(); k != "" {
			words := c.words
			if c.menu == "Cards" {
				words = "the " + words + " card"
			}
			all = append(all, [2]string{k, words})
		}
	}
	return append(all, handKeys...)
}

// showKeys lists every key.
func (m *menus) showKeys() {
	lines := m.keyLines()
	half := (len(lines) + 1) / 2
	column := func(part [][2]string) fyne.CanvasObject {
		grid := container.New(layout.NewFormLayout())
		for _, l := range part {
			grid.Add(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 14), paper.Write(l[0], paper.Small, paper.Ink).Bold()))
			grid.Add(paper.Write(l[1], paper.Small, paper.Ink))
		}
		return grid
	}
	page := container.New(layout.NewCustomPaddedHBoxLayout(28), column(lines[:half]), column(lines[half:]))
	m.read("Keys", paper.NewScroll(page).Whole, fyne.NewSize(820, 720))
}

// showAbout says what the program is.
func (m *menus) showAbout() {
	text := "Grainstack " + m.o.Version + " shows a sculpture as a stack of plywood panels before the first cut: what it will look like, weigh and take.\n\nIts figures are worked out from the surface you open and from the stock you choose; those marked as estimates are just that. Machines, dust, glue and finishes have their dangers: local rules and the makers' data sheets come first."
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	m.read("About", label, fyne.NewSize(460, 300))
}
