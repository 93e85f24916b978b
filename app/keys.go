package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
)

// A keyGroup is keys that belong together, each with what it does.
type keyGroup struct {
	title string
	lines [][2]string
}

// handKeys are keys that belong to a pane or a field rather than to the table.
var handKeys = []keyGroup{
	{"On the finished piece", [][2]string{
		{"arrow left, right", "turn the view"}, {"Page up, Page down", "tilt the view"}, {"+ and −", "zoom"},
	}},
	{"On the sheets", [][2]string{
		{"+ and −", "zoom"}, {"Home", "fit it to its pane"}, {"arrow left, right", "the next panel, step or board"},
	}},
	{"On the list of what needs a look", [][2]string{{"arrow up, down", "the next place, the one before"}, {"Enter", "to what can be done about it; Tab goes on there"}}},
	{"On the panel sheet", [][2]string{
		{"Enter", "take the part into the hand, and let it go"}, {".", "its tabs and pins in turn"},
		{"arrows, with shift", "move what is in the hand, finely"}, {"Page up, Page down", "with a part in the hand: to another panel"},
	}},
	{"On the sheet of programs", [][2]string{
		{"arrow left, right", "a minute back, a minute on"}, {"Page up, Page down", "the program before, the next"}, {"Enter", "from one fault of the proof to the next"},
	}},
	{"On rules and in fields", [][2]string{
		{"Tab", "from one control to the next"}, {"arrow left, right", "on a rule: one step"}, {"Page up, Page down", "on a rule: ten steps"},
		{"arrow up, down", "in a field: one step"}, {"Enter, Escape", "in a field: done, or as it was"},
	}},
}

// keyGroups are all keys and what they do: those of the table by the menu that they stand in, and those of panes and fields.
func (m *menus) keyGroups() (all []keyGroup) {
	for _, title := range menuTitles {
		g := keyGroup{title: title}
		for _, c := range m.commands() {
			if k := c.keys(); k != "" && c.menu == title {
				words := c.words
				if c.menu == "Cards" && c.name != "pin" {
					words = "the " + words + " card"
				}
				g.lines = append(g.lines, [2]string{k, words})
				if c.name == "redo" {
					g.lines = append(g.lines, [2]string{controlKey + "+Shift+Z", "Redo as well"})
				}
			}
		}
		if len(g.lines) > 0 {
			all = append(all, g)
		}
	}
	return append(all, handKeys...)
}

// showKeys lists every key in its group, in two columns of about one length.
func (m *menus) showKeys() {
	groups := m.keyGroups()
	total := 0
	for _, g := range groups {
		total += len(g.lines) + 2
	}
	columns := [2]*fyne.Container{container.NewVBox(), container.NewVBox()}
	done := 0
	for _, g := range groups {
		at := columns[0]
		if 2*done >= total {
			at = columns[1]
		}
		done += len(g.lines) + 2
		grid := container.New(layout.NewFormLayout())
		for _, l := range g.lines {
			grid.Add(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 14), paper.Write(l[0], paper.Small, paper.Ink).Bold()))
			grid.Add(paper.Write(l[1], paper.Small, paper.Ink))
		}
		at.Add(container.New(layout.NewCustomPaddedLayout(8, 0, 0, 0), paper.Write(g.title, paper.Small, paper.Pencil)))
		at.Add(grid)
	}
	page := container.New(layout.NewCustomPaddedHBoxLayout(28), columns[0], columns[1])
	m.read("Keys", paper.NewScroll(page).Whole, fyne.NewSize(860, 720))
}

// showAbout says what the program is.
func (m *menus) showAbout() {
	text := "Grainstack " + m.o.Version + " shows a sculpture as a stack of plywood panels before the first cut: what it will look like, weigh and take.\n\nIts figures are worked out from the surface you open and from the stock you choose; those marked as estimates are just that. Machines, dust, glue and finishes have their dangers: local rules and the makers' data sheets come first."
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	m.read("About", label, fyne.NewSize(460, 300))
}
