package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A topLine is the piece at the left and the commands that are always at hand at the right.
type topLine struct {
	name       *paper.Words
	facts      *paper.Told
	undo, redo *paper.Button
	buttons    []fyne.CanvasObject
	whole      fyne.CanvasObject
}

func newTopLine(run func(string)) *topLine {
	t := &topLine{name: paper.Write("", paper.Title, paper.Ink).Bold(), facts: paper.Tell("", paper.Small, paper.Pencil)}
	quiet := func(text, command string) *paper.Button {
		b := paper.NewButton(text, func() { run(command) })
		b.Importance = widget.LowImportance
		return b
	}
	t.undo, t.redo = quiet("Undo", "undo"), quiet("Redo", "redo")
	t.buttons = []fyne.CanvasObject{quiet("Open", "open"), quiet("Save", "save"), quiet("Make files", "make"), t.undo, t.redo, quiet("Keys", "keys")}
	left := container.New(layout.NewCustomPaddedLayout(0, 0, 14, 16), t.name)
	t.whole = container.New(layout.NewCustomPaddedLayout(3, 3, 0, 8), container.NewBorder(nil, nil, left, container.NewHBox(t.buttons...), t.facts))
	return t
}

func (t *topLine) put(name, facts, undo, redo string) {
	t.name.Say(name)
	t.facts.Say(facts)
	naming(t.undo, "Undo", undo)
	naming(t.redo, "Redo", redo)
	if t.whole.Size().Width > 0 && t.whole.Size().Width < t.whole.MinSize().Width {
		t.redo.SetText("Redo")
		t.undo.SetText("Undo")
	}
}

// naming says on the button what it would do.
func naming(b *paper.Button, verb, what string) {
	text := verb
	if what != "" {
		text += " " + what
	}
	if b.Text != text {
		b.SetText(text)
	}
	if (what == "") != b.Disabled() {
		if what == "" {
			b.Disable()
		} else {
			b.Enable()
		}
	}
}
