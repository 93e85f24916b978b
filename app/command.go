package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/picture"
	"grainstack/app/session"
)

// commands is the one table.
func (w *window) commands() []command {
	hasPiece := func() bool { return w.bench.Model != nil }
	all := append(w.pieceCommands(), w.stepCommands()...)
	all = append(all, w.viewCommands()...)
	all = append(all, w.roomCommands()...)
	all = append(all, w.folder.leafCommands()...)
	all = append(all, w.panelCommands()...)
	all = append(all, w.trialCommands()...)
	all = append(all, w.snagCommands()...)
	all = append(all, w.programCommands()...)
	for _, c := range w.cards.all {
		if c.Number == 0 { // it is opened by a command of its own
			continue
		}
		digit := string(rune('0' + c.Number%10))
		all = append(all, command{name: "card " + digit, menu: "Cards", words: c.Title, key: fyne.KeyName(digit), do: func() { w.cards.toggle(c) }})
	}
	return append(all,
		command{name: "layer", menu: "Change", words: "Board and turn of the picked layer…", key: fyne.KeyReturn, enabled: hasPiece, do: func() {
			if !w.enterSnag() {
				w.blankOfPicked()
			}
		}},
		command{name: "tones", menu: "Change", words: "Tones from a photo of your board…", do: w.tonesDialog},
		command{name: "lay", menu: "Change", words: "Lay on a facet", key: fyne.KeyF, enabled: hasPiece, do: func() { w.pickFor("lay") }},
		command{name: "measure", menu: "Change", words: "Measure between two points", key: fyne.KeyD, enabled: hasPiece, do: func() { w.pickFor("measure") }},
		command{name: "floor", menu: "Change", words: "Stand on three points", key: fyne.KeyT, enabled: hasPiece, do: func() { w.pickFor("floor") }},
		command{name: "saw", menu: "Change", words: "Saw off at a place", key: fyne.KeyB, enabled: hasPiece, do: func() { w.pickFor("saw") }},
		command{name: "compare", menu: "Change", words: "Compare directions of the stack", enabled: hasPiece, do: w.compareDirections},
		command{name: "drag", menu: "Change", words: "Dragging turns the piece, or the view", key: fyne.KeySlash, enabled: hasPiece, do: func() { w.dragTurns(!w.turning()) }},
		command{name: "pin", menu: "Cards", words: "Pin the open card, or let it go", key: fyne.KeyInsert, enabled: func() bool { return w.cards.opened() != nil }, do: func() { w.cards.opened().Pin() }},
		command{name: "scans", menu: "Cards", words: "Scans", do: func() { w.cards.toggle(w.cards.scans) }},
		command{name: "chalk", menu: "Change", words: "Take the chalk, or put it down", key: fyne.KeyF4, enabled: hasPiece, do: w.takeChalk},
		command{name: "ten steps", menu: "Help", words: "The job in ten steps", key: fyne.KeyF12, do: w.showSteps},
		command{name: "keys", menu: "Help", words: "Keys", key: fyne.KeyF1, do: w.showKeys},
		command{name: "about", menu: "Help", words: "About Grainstack", do: w.showAbout},
	)
}

func (w *window) pieceCommands() []command {
	hasPiece := func() bool { return w.bench.Model != nil }
	return []command{
		{name: "open", menu: "Piece", words: "Open…", ctrl: fyne.KeyO, do: w.openDialog},
		{name: "add scan", menu: "Piece", words: "Add a scan…", enabled: w.joinable, do: w.addScan},
		{name: "demo", menu: "Piece", words: "Open the demo piece", enabled: func() bool { return w.o.Piece != nil }, do: func() { w.openPiece("") }},
		{name: "save", menu: "Piece", words: "Save job", ctrl: fyne.KeyS, enabled: hasPiece, do: w.saveJob},
		{name: "save as", menu: "Piece", words: "Save job as…", ctrl: fyne.KeyS, shift: true, enabled: hasPiece, do: w.saveAs},
		{name: "make", menu: "Piece", words: "Make files…", ctrl: fyne.KeyM, enabled: hasPiece, do: w.making.makeFiles},
		{name: "book", menu: "Piece", words: "Work book…", ctrl: fyne.KeyP, enabled: hasPiece, do: w.making.makeBook},
		{name: "still", menu: "Piece", words: "Still…", enabled: hasPiece, do: func() { w.making.stillDialog(false) }},
		{name: "turntable", menu: "Piece", words: "Turntable…", enabled: hasPiece, do: func() { w.making.stillDialog(true) }},
		{name: "hollow", menu: "Piece", words: "Work out the hollow again", enabled: hasPiece, do: func() { w.retry(w.tasks.again.hollow) }},
		{name: "go on", menu: "Piece", words: "Go on with what was called off", enabled: func() bool { return w.tasks.wordsOff() != "" }, do: w.tasks.resume},
		{name: "mend", menu: "Piece", words: "Mend the scan now", enabled: func() bool { return w.bench.MendFault() != "" }, do: func() { w.retry(w.tasks.again.mend) }},
		{name: "cancel", menu: "Piece", words: "Leave what is being picked or worked out", key: fyne.KeyEscape, do: w.leaveOff},
		{name: "close", menu: "Piece", words: "Leave Grainstack", ctrl: fyne.KeyQ, do: w.askToClose},
	}
}

func (w *window) viewCommands() []command {
	view := func(change func(*session.View)) func() { return func() { w.Look(change) } }
	return []command{
		{name: "layer up", menu: "View", words: "Layer above", key: fyne.KeyUp, do: func() { w.pick(w.bench.Layer() + 1) }},
		{name: "layer down", menu: "View", words: "Layer below", key: fyne.KeyDown, do: func() { w.pick(w.bench.Layer() - 1) }},
		{name: "whole piece", menu: "View", words: "Whole piece", key: fyne.KeyHome, do: func() { w.see(picture.FirstCamera()) }},
		{name: "front", menu: "View", words: "From the front", key: fyne.KeyF5, do: w.seeFrom(-90, 0)},
		{name: "side", menu: "View", words: "From the side", key: fyne.KeyF6, do: w.seeFrom(0, 0)},
		{name: "above", menu: "View", words: "From above", key: fyne.KeyF7, do: w.seeFrom(-90, 90)},
		{name: "cut", menu: "View", words: "Cut away above the picked layer", key: fyne.KeyC, do: view(func(v *session.View) { v.CutAway = !v.CutAway })},
		{name: "lift", menu: "View", words: "Lift the layers apart", key: fyne.KeyL, do: view(lift)},
		{name: "marks", menu: "View", words: "Ring the places that need a look", key: fyne.KeyM, do: view(func(v *session.View) { v.Marks = !v.Marks })},
		{name: "seen", menu: "View", words: "The scan's own colours", do: view(func(v *session.View) { v.Over = v.Over.Turned(session.ScanTints) })},
		{name: "apart", menu: "View", words: "How far the scans lie apart", enabled: func() bool { return w.bench.Plan() != nil }, do: view(func(v *session.View) { v.Over = v.Over.Turned(session.ApartTints) })},
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

// leaveOff leaves what is being picked, or else what is being worked out.
func (w *window) leaveOff() {
	switch {
	case w.drop():
		w.Hint("")
	case w.leavePicking():
	case w.brushing():
		w.takeChalk()
	case w.leaveComparison():
	case w.leaveSnag():
	case w.shareAgain():
	default:
		w.tasks.callOff()
		w.trace.line("what=off")
	}
}
