package app

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/app/card"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
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

// commands is the one table.
func (w *window) commands() []command {
	all := append(w.pieceCommands(), w.changeCommands()...)
	all = append(all, w.viewCommands()...)
	all = append(all, w.leafCommands()...)
	all = append(all, w.panelCommands()...)
	all = append(all, w.splitCommands()...)
	all = append(all, w.trialCommands()...)
	for i, c := range w.cards {
		if c.Number == 0 { // it is opened by a command of its own
			continue
		}
		digit := string(rune('0' + c.Number%10))
		all = append(all, command{name: "card " + digit, menu: "Cards", words: c.Title, key: fyne.KeyName(digit), do: func() { w.openCard(i) }})
	}
	return append(all,
		command{name: "compare", menu: "Change", words: "Compare directions of the stack", enabled: func() bool { return w.model != nil }, do: w.compareDirections},
		command{name: "chalk", menu: "Change", words: "Take the chalk, or put it down", key: fyne.KeyF4, enabled: func() bool { return w.model != nil }, do: w.takeChalk},
		command{name: "keys", menu: "Help", words: "Keys", key: fyne.KeyF1, do: w.showKeys},
		command{name: "about", menu: "Help", words: "About Grainstack", do: w.showAbout},
	)
}

func (w *window) pieceCommands() []command {
	hasPiece := func() bool { return w.model != nil }
	return []command{
		{name: "open", menu: "Piece", words: "Open…", ctrl: fyne.KeyO, do: w.openDialog},
		{name: "demo", menu: "Piece", words: "Open the demo piece", enabled: func() bool { return w.o.Piece != nil }, do: func() { w.open("") }},
		{name: "save", menu: "Piece", words: "Save job", ctrl: fyne.KeyS, enabled: hasPiece, do: w.save},
		{name: "save as", menu: "Piece", words: "Save job as…", ctrl: fyne.KeyS, shift: true, enabled: hasPiece, do: w.saveAs},
		{name: "make", menu: "Piece", words: "Make files…", ctrl: fyne.KeyM, enabled: hasPiece, do: w.makeFiles},
		{name: "book", menu: "Piece", words: "Work book…", ctrl: fyne.KeyP, enabled: hasPiece, do: w.makeBook},
		{name: "still", menu: "Piece", words: "Still…", enabled: hasPiece, do: func() { w.stillDialog(false) }},
		{name: "turntable", menu: "Piece", words: "Turntable…", enabled: hasPiece, do: func() { w.stillDialog(true) }},
		{name: "hollow", menu: "Piece", words: "Work out the hollow again", enabled: hasPiece, do: w.askHollow},
		{name: "go on", menu: "Piece", words: "Go on with what was called off", enabled: func() bool { return w.wordsOff() != "" }, do: w.resume},
		{name: "mend", menu: "Piece", words: "Mend the scan now", enabled: func() bool { return w.mending.fault != "" }, do: w.mendNow},
		{name: "cancel", menu: "Piece", words: "Leave what is being picked or worked out", key: fyne.KeyEscape, do: w.cancel},
		{name: "close", menu: "Piece", words: "Leave Grainstack", ctrl: fyne.KeyQ, do: w.askToClose},
	}
}

func (w *window) changeCommands() []command {
	hasPiece := func() bool { return w.model != nil }
	all := []command{
		{name: "undo", menu: "Change", words: "Undo", ctrl: fyne.KeyZ, canvasOnly: true, enabled: func() bool { return w.session.UndoName() != "" }, do: w.undo},
		{name: "redo", menu: "Change", words: "Redo", ctrl: fyne.KeyY, canvasOnly: true, enabled: func() bool { return w.session.RedoName() != "" }, do: w.redo},
	}
	for i, one := range []struct {
		words string
		key   fyne.KeyName
	}{{"Turn forward 90°", fyne.KeyX}, {"Turn sideways 90°", fyne.KeyY}, {"Turn round 90°", fyne.KeyZ}} {
		var a [3]float64
		a[i] = 90
		all = append(all, command{name: one.words, menu: "Change", words: one.words, key: one.key, enabled: hasPiece, do: func() {
			w.turnBy(geom.TurnXYZ(a[0], a[1], a[2]))
		}})
	}
	return append(all,
		command{name: "layer", menu: "Change", words: "Board and turn of the picked layer…", key: fyne.KeyReturn, enabled: hasPiece, do: w.blankOfPicked},
		command{name: "tones", menu: "Change", words: "Tones from a photo of your board…", do: w.tonesDialog},
		command{name: "lay", menu: "Change", words: "Lay on a facet", key: fyne.KeyF, enabled: hasPiece, do: func() { w.pickFor("lay") }},
		command{name: "measure", menu: "Change", words: "Measure between two points", key: fyne.KeyD, enabled: hasPiece, do: func() { w.pickFor("measure") }},
		command{name: "floor", menu: "Change", words: "Stand on three points", key: fyne.KeyT, enabled: hasPiece, do: func() { w.pickFor("floor") }},
		command{name: "saw", menu: "Change", words: "Saw off at a place", key: fyne.KeyB, enabled: hasPiece, do: func() { w.pickFor("saw") }},
	)
}

func (w *window) viewCommands() []command {
	view := func(change func(*session.View)) func() { return func() { w.Look(change) } }
	look := func(azimuth, elevation float64) func() {
		return func() {
			w.camera = firstCamera()
			w.camera.Azimuth, w.camera.Elevation = azimuth*math.Pi/180, elevation*math.Pi/180
			w.asked = w.now()
			w.askLook()
		}
	}
	return []command{
		{name: "layer up", menu: "View", words: "Layer above", key: fyne.KeyUp, do: func() { w.pick(w.session.Layer() + 1) }},
		{name: "layer down", menu: "View", words: "Layer below", key: fyne.KeyDown, do: func() { w.pick(w.session.Layer() - 1) }},
		{name: "whole piece", menu: "View", words: "Whole piece", key: fyne.KeyHome, do: func() {
			w.camera = firstCamera()
			w.asked = w.now()
			w.askLook()
		}},
		{name: "front", menu: "View", words: "From the front", key: fyne.KeyF5, do: look(-90, 0)},
		{name: "side", menu: "View", words: "From the side", key: fyne.KeyF6, do: look(0, 0)},
		{name: "above", menu: "View", words: "From above", key: fyne.KeyF7, do: look(-90, 90)},
		{name: "cut", menu: "View", words: "Cut away above the picked layer", key: fyne.KeyC, do: view(func(v *session.View) { v.CutAway = !v.CutAway })},
		{name: "lift", menu: "View", words: "Lift the layers apart", key: fyne.KeyL, do: view(lift)},
		{name: "marks", menu: "View", words: "Ring the places that need a look", key: fyne.KeyM, do: view(func(v *session.View) { v.Marks = !v.Marks })},
		{name: "seen", menu: "View", words: "The scan's own colours", do: view(func(v *session.View) { v.Seen = !v.Seen })},
		{name: "ghost", menu: "View", words: "Layer below on the sheet", key: fyne.KeyG, do: view(func(v *session.View) { v.Ghost = !v.Ghost })},
		{name: "units", menu: "View", words: "Inches or millimetres", key: fyne.KeyI, do: view(func(v *session.View) { v.Units = 1 - v.Units })},
		{name: "shade", menu: "View", words: "Dark or light", key: fyne.KeyN, do: w.toggleShade},
		{name: "larger", menu: "View", words: "Larger text", enabled: func() bool { return w.nextText(1) != w.theme.Text }, do: func() { w.sizeText(1) }},
		{name: "smaller", menu: "View", words: "Smaller text", enabled: func() bool { return w.nextText(-1) != w.theme.Text }, do: func() { w.sizeText(-1) }},
	}
}

// lift opens the stack by a usual amount, or closes it.
func lift(v *session.View) {
	if v.Lift > 0 {
		v.Lift = 0
	} else {
		v.Lift = 12
	}
}

// run runs a command by its name; one that is not enabled does nothing.
func (w *window) run(name string) {
	for _, c := range w.commands() {
		if c.name == name && (c.enabled == nil || c.enabled()) {
			c.do()
			return
		}
	}
}

// key runs the command of a key without a modifier.
func (w *window) key(k fyne.KeyName) {
	if w.win.Canvas().Overlays().Top() != nil {
		if k == fyne.KeyEscape && w.page != nil {
			w.page.Hide()
		}
		return
	}
	for _, c := range w.commands() {
		if c.key != "" && c.key == k && (c.enabled == nil || c.enabled()) {
			c.do()
			return
		}
	}
}

// sign takes signs that no key name stands for on every keyboard.
func (w *window) sign(r rune) {
	if r == '?' {
		w.run("keys")
	}
}

// bindKeys puts the table's keys on the canvas; those with a modifier are the menu's.
func (w *window) bindKeys() {
	c := w.win.Canvas()
	c.SetOnTypedKey(func(e *fyne.KeyEvent) { w.key(e.Name) })
	c.SetOnTypedRune(w.sign)
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { w.run("undo") })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { w.run("redo") })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift},
		func(fyne.Shortcut) { w.run("redo") })
}

// A menuItem keeps a command beside its item, so that the item can be brought up to date.
type menuItem struct {
	command
	item *fyne.MenuItem
}

func (w *window) menuTable() []menuItem {
	var all []menuItem
	for _, c := range w.commands() {
		item := fyne.NewMenuItem(c.words, func() { w.run(c.name) })
		if c.ctrl != "" && !c.canvasOnly {
			m := fyne.KeyModifierShortcutDefault
			if c.shift {
				m |= fyne.KeyModifierShift
			}
			item.Shortcut = &desktop.CustomShortcut{KeyName: c.ctrl, Modifier: m}
		}
		item.IsQuit = c.name == "close"
		all = append(all, menuItem{c, item})
	}
	return all
}

func (w *window) mainMenu() *fyne.MainMenu {
	var menus []*fyne.Menu
	for _, title := range []string{"Piece", "Change", "Trials", "View", "Cards", "Help"} {
		var items []*fyne.MenuItem
		for _, m := range w.menus {
			if m.menu != title {
				continue
			}
			if m.name == "close" {
				items = append(items, w.recentItem())
			}
			items = append(items, m.item)
		}
		menus = append(menus, fyne.NewMenu(title, items...))
	}
	return fyne.NewMainMenu(menus...)
}

// nameUndo says in the menu what undo and redo would do.
func (w *window) nameUndo() {
	changed := false
	for _, m := range w.menus {
		words, off := m.words, m.enabled != nil && !m.enabled()
		switch m.name {
		case "undo":
			words = after("Undo", w.session.UndoName())
		case "redo":
			words = after("Redo", w.session.RedoName())
		}
		if m.item.Shortcut == nil && m.keys() != "" {
			words += "  ·  " + m.keys()
		}
		if m.item.Label != words || m.item.Disabled != off {
			m.item.Label, m.item.Disabled, changed = words, off, true
		}
	}
	if menu := w.win.MainMenu(); changed && menu != nil {
		menu.Refresh()
	}
}

func after(verb, what string) string {
	if what == "" {
		return verb
	}
	return verb + " " + what
}

func (w *window) undo() {
	was, held := w.session.Settings(), w.session.Places()
	if _, ok := w.session.Undo(); ok {
		w.wentFrom(was, held)
	}
}

func (w *window) redo() {
	was, held := w.session.Settings(), w.session.Places()
	if _, ok := w.session.Redo(); ok {
		w.wentFrom(was, held)
	}
}

// wentFrom follows a step back or forward: where only places or trials have changed no figure has to be worked out anew.
func (w *window) wentFrom(was job.Settings, held *job.Places) {
	w.keepWork()
	w.hand = hand{}
	switch {
	case w.session.Settings() != was:
		w.changed()
	case w.session.Places() != held:
		w.placed()
	default:
		w.showAll()
	}
}

func (w *window) turnBy(t geom.Turn) {
	w.Do("quarter turn", func(s job.Settings) job.Settings {
		s.Turn = s.Turn.Then(t)
		return s
	})
	w.Rest()
}

// pickFor takes the next clicks on the piece for something else than a layer.
func (w *window) pickFor(what string) {
	w.picking.what, w.picking.points = what, nil
	w.session.View.Brush.On = false
	w.look.Focus()
	w.askLook()
	w.showAll()
}

// cancel leaves what is being picked, or else what is being worked out.
func (w *window) cancel() {
	if w.drop() {
		w.margin.hint("")
		return
	}
	if w.picking.what != "" || len(w.picking.points) > 0 {
		w.picking.what, w.picking.points = "", nil
		w.askLook()
		w.showAll()
		return
	}
	if w.brushing() {
		w.dropStroke()
		w.takeChalk()
		w.showBrush(fyne.Position{}, false)
		w.askLook()
		return
	}
	if w.leaveComparison() {
		return
	}
	w.callOff()
}

// openCard folds a card out or in and brings it into sight.
func (w *window) openCard(i int) {
	c := w.cards[i]
	c.Toggle()
	if !c.Open() {
		return
	}
	w.reveal(c)
}

// reveal brings an open card into sight.
func (w *window) reveal(c *card.Card) {
	low, high := c.Position().Y, c.Position().Y+c.MinSize().Height
	switch view := w.bench.Size().Height; {
	case low < w.bench.Offset.Y || high-low > view:
		w.bench.ScrollToOffset(fyne.NewPos(0, low))
	case high > w.bench.Offset.Y+view:
		w.bench.ScrollToOffset(fyne.NewPos(0, high-view))
	}
}

// folded follows a card that was folded: dragging may mean something else now.
func (w *window) folded() {
	w.showCaptions(w.state())
	w.askLook() // marks are shown while their card is open
	w.bench.Refresh()
	if w.trace != nil {
		w.post(w.tracePlaces)
	}
}

// tracePlaces logs where the panes and the rules of open cards are.
func (w *window) tracePlaces() {
	for _, p := range []*pane.Picture{w.look.Picture, w.folder.now().pane, w.stick.Picture} {
		if p != nil {
			w.trace.place("pane", p.Name, p)
		}
	}
	w.traceLeaves()
	if w.folder.shows(w.compass.Picture) {
		w.trace.place("button", w.compass.begin.Text, w.compass.begin)
	}
	w.traceStrip()
	for _, c := range w.cards {
		for name, r := range c.Rules() {
			w.trace.place("rule", name, r)
		}
		for name, o := range c.Places() {
			w.trace.place("button", name, o)
		}
	}
}

func (w *window) toggleShade() {
	shade := paper.Dark
	if w.dark() {
		shade = paper.Light
	}
	w.app.Preferences().SetInt(prefShade, int(shade))
	w.dressIn(shade, w.theme.Text)
}
