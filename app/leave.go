package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// unsaved reports whether leaving what is on the bench would lose something.
func (f *filing) unsaved() bool { return f.bench.Model != nil && (f.bench.Dirty() || f.kept.anew) }

// askToLeave does what takes the work off the bench, but asks first where something would be lost; the answers are to save it
// first, to do it without, and to stay. Asked again while the question is open, it stays open.
func (f *filing) askToLeave(answers []string, do func()) {
	if f.question != nil {
		return
	}
	if !f.unsaved() {
		do()
		return
	}
	text := "What you have chosen since the job was last saved is not in its file. What shall become of it?"
	if f.bench.Path == "" {
		text = "What you have chosen for this piece is in no file yet. What shall become of it?"
	}
	saveFirst := func() { // where that can't be, or is called off, the work stays
		f.leaving = func() { f.askToLeave(answers, do) } // it may have been changed meanwhile
		f.saveJob()
	}
	f.question = f.ask("Unsaved work", text, answers, []func(){saveFirst, do, func() {}})
	f.trace.line("what=question")
}

// ask asks a question. The keys go to the first answer; Escape is the last one.
func (f *filing) ask(title, text string, answers []string, do []func()) dialog.Dialog {
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	d := dialog.NewCustomWithoutButtons(title, label, f.win)
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
	d.SetOnClosed(func() { f.question = nil })
	d.Resize(fyne.NewSize(min(520, f.win.Canvas().Size().Width-60), 180))
	f.show(d)
	f.win.Canvas().Focus(buttons[0])
	return d
}
