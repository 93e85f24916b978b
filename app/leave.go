package app

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
	f.question = f.ask("Unsaved work", text, 180, answers, saveFirst, do, func() {})
	f.question.SetOnClosed(func() { f.question = nil })
	f.trace.line("what=question")
}
