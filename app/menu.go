package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/app/pane"
)

// A command is one thing that the window can be told to do. Menu, keys, buttons and the page of keys are made from the table.
type command struct {
	name    string // as it is run
	menu    string // the menu it stands in
	words   string // as it is written
	ctrl    fyne.KeyName
	shift   bool
	key     fyne.KeyName // without a modifier, while nothing is being typed
	enabled func() bool
	do      func()
	// canvasOnly commands have shortcuts that a field being typed in comes before: undo and redo.
	canvasOnly bool
}

// keys is how the command's keys are written.
func (c command) keys() string {
	switch {
	case c.ctrl != "" && c.shift:
		return controlKey + "+Shift+" + string(c.ctrl)
	case c.ctrl != "":
		return controlKey + "+" + string(c.ctrl)
	}
	return keyWord(c.key)
}

func keyWord(k fyne.KeyName) string {
	switch k {
	case fyne.KeyUp:
		return "arrow up"
	case fyne.KeyDown:
		return "arrow down"
	case fyne.KeyReturn:
		return "Enter"
	}
	return string(k)
}

// menus run the commands of the table, by their names, by keys and from the main menu.
type menus struct {
	*core
	commands func() []command
	recent   func() *fyne.MenuItem // the menu of the recent files
	items    []menuItem
}

// command runs a command by its name; one that is not enabled does nothing.
func (m *menus) command(name string) {
	m.runFirst(func(c command) bool { return c.name == name })
}

// keyed runs the command of a key without a modifier.
func (m *menus) keyed(k fyne.KeyName) {
	if m.covered() {
		if n := len(m.pages); k == fyne.KeyEscape && n > 0 {
			m.pages[n-1].Hide()
		}
		return
	}
	m.runFirst(func(c command) bool { return c.key != "" && c.key == k })
}

// runOpen runs a command of the menu or of a shortcut, which come here over a page as well: nothing is done under it, and no page
// is opened over another, but the window can always be left.
func (m *menus) runOpen(name string) {
	if !m.covered() || name == "close" {
		m.run(name)
	}
}

// runFirst runs the first command that is so and is enabled.
func (m *menus) runFirst(is func(command) bool) {
	for _, c := range m.commands() {
		if is(c) && (c.enabled == nil || c.enabled()) {
			c.do()
			return
		}
	}
}

// typed takes signs that no key name stands for on every keyboard.
func (m *menus) typed(r rune) {
	if r == '?' {
		m.runOpen("keys")
	}
}

// bindKeys puts the table's keys on the canvas; those with a modifier are the menu's.
func (m *menus) bindKeys() {
	c := m.win.Canvas()
	c.SetOnTypedKey(func(e *fyne.KeyEvent) { m.key(e.Name) })
	c.SetOnTypedRune(m.typed)
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { m.runOpen("undo") })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { m.runOpen("redo") })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift},
		func(fyne.Shortcut) { m.runOpen("redo") })
}

// A menuItem keeps a command beside its item, so that the item can be brought up to date.
type menuItem struct {
	command
	item *fyne.MenuItem
}

// fill makes the items of the main menu.
func (m *menus) fill() {
	for _, c := range m.commands() {
		item := fyne.NewMenuItem(c.words, func() { m.runOpen(c.name) })
		if c.ctrl != "" && !c.canvasOnly {
			with := fyne.KeyModifierShortcutDefault
			if c.shift {
				with |= fyne.KeyModifierShift
			}
			item.Shortcut = &desktop.CustomShortcut{KeyName: c.ctrl, Modifier: with}
		}
		item.IsQuit = c.name == "close"
		m.items = append(m.items, menuItem{c, item})
	}
}

// menuTitles are the menus, in their order.
var menuTitles = []string{"Piece", "Change", "Trials", "View", "Cards", "Help"}

func (m *menus) mainMenu() *fyne.MainMenu {
	var menus []*fyne.Menu
	for _, title := range menuTitles {
		var items []*fyne.MenuItem
		for _, one := range m.items {
			if one.menu != title {
				continue
			}
			if one.name == "close" {
				items = append(items, m.recent())
			}
			items = append(items, one.item)
		}
		menus = append(menus, fyne.NewMenu(title, items...))
	}
	return fyne.NewMainMenu(menus...)
}

// nameUndo says in the menu what undo and redo would do.
func (m *menus) nameUndo() {
	changed := false
	for _, one := range m.items {
		words, off := one.words, one.enabled != nil && !one.enabled()
		switch one.name {
		case "undo":
			words = after("Undo", m.bench.UndoName())
		case "redo":
			words = after("Redo", m.bench.RedoName())
		}
		if one.item.Shortcut == nil && one.keys() != "" {
			words += "  ·  " + one.keys()
		}
		if one.item.Label != words || one.item.Disabled != off {
			one.item.Label, one.item.Disabled, changed = words, off, true
		}
	}
	if menu := m.win.MainMenu(); changed && menu != nil {
		menu.Refresh()
	}
}

func after(verb, what string) string {
	if what == "" {
		return verb
	}
	return verb + " " + what
}

// gestures are those of a view, with what every view of the window reports.
func (m *menus) gestures(g pane.Gestures) pane.Gestures {
	g.Rune, g.Sized = m.typed, m.soon
	if g.Key == nil {
		g.Key = m.key
	}
	return g
}
