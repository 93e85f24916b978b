package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// askToClose closes the window, but asks first where something would be lost.
func (w *window) askToClose() {
	w.askToLeave([]string{"Save it and leave", "Leave without it", "Stay"}, w.close)
}

// unsaved reports whether leaving what is on the bench would lose something.
func (w *window) unsaved() bool { return w.model != nil && (w.session.Dirty() || w.kept.anew) }

// askToLeave does what takes the work off the bench, but asks first where something would be lost; the answers are to save it
// first, to do it without, and to stay. Asked again while the question is open, it stays open.
func (w *window) askToLeave(answers []string, do func()) {
	if w.question != nil {
		return
	}
	if !w.unsaved() {
		do()
		return
	}
	text := "What you have chosen since the job was last saved is not in its file. What shall become of it?"
	if w.path == "" {
		text = "What you have chosen for this piece is in no file yet. What shall become of it?"
	}
	saveFirst := func() { // where that can't be, or is called off, the work stays
		w.leaving = func() { w.askToLeave(answers, do) } // it may have been changed meanwhile
		w.save()
	}
	w.question = w.ask("Unsaved work", text, answers, []func(){saveFirst, do, func() {}})
	w.trace.line("what=question")
}

// ask asks a question. The keys go to the first answer; Escape is the last one.
func (w *window) ask(title, text string, answers []string, do []func()) dialog.Dialog {
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	d := dialog.NewCustomWithoutButtons(title, label, w.win)
	taken := make([]func(), len(do))
	for i := range do {
		taken[i] = func() {
			d.Hide()
			do[i]()
		}
	}
	buttons := paper.NewChoices(d.Hide, answers, taken)
	buttons[0].Importance = widget.HighImportance
	row := make([]fyne.CanvasObject, len(buttons))
	for i, b := range buttons {
		row[i] = b
	}
	d.SetButtons(row)
	d.SetOnClosed(func() { w.question = nil })
	d.Resize(fyne.NewSize(min(520, w.win.Canvas().Size().Width-60), 180))
	w.show(d)
	w.win.Canvas().Focus(buttons[0])
	return d
}
