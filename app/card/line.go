package card

import (
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/job"
)

// A line is a setting that is written out in a field of its own.
type line struct {
	Name  string // as it is written
	Call  string // as undo calls it
	Moves string // how it is written, with an example
	Text  func(State) string
	// Read is the settings with what is written; the error is a sentence for the maker.
	Read func(s State, text string) (job.Settings, error)

	bench Bench
	now   State
	field *Field
	fault *widget.Label
	box   *fyne.Container
}

// on puts the line to a bench and builds it.
func (l *line) on(b Bench) *line {
	l.bench = b
	l.field = newField()
	l.field.Typed, l.field.Rested = l.typed, l.done
	l.field.Scroll = fyne.ScrollHorizontalOnly // it may be longer than the card is wide
	l.field.SetPlaceHolder("none")
	l.field.Noticed = func(here bool) {
		if here {
			b.Hint(l.Name + ": " + l.Moves)
		} else {
			b.Hint("")
		}
	}
	l.fault = paper.Sentence(paper.Red)
	l.fault.Hide()
	named := container.New(namedLayout{}, paper.Tell(l.Name, paper.Small, paper.Ink), underlined(l.field))
	l.box = container.NewVBox(named, l.fault)
	return l
}

func (l *line) object() fyne.CanvasObject { return l.box }
func (l *line) places() map[string]fyne.CanvasObject {
	return map[string]fyne.CanvasObject{l.Name: l.field}
}

func (l *line) show(s State) {
	unitsChanged := l.now.View.Units != s.View.Units
	l.now = s
	if l.field.focused && !unitsChanged && l.reads(s.Settings) {
		return
	}
	l.field.Put(l.Text(s), true)
	l.calm()
}

// reads reports whether what is typed stands for the settings already, or for none.
func (l *line) reads(s job.Settings) bool {
	typed, err := l.Read(l.now, l.field.Text)
	return err != nil || typed == s
}

// typed takes each keystroke: words that can be used are used at once, others are explained in place.
func (l *line) typed(text string) {
	if _, err := l.Read(l.now, text); err != nil {
		l.complain(err)
		return
	}
	l.calm()
	l.bench.Do(l.Call, func(s job.Settings) job.Settings {
		at := l.now
		at.Settings = s
		next, err := l.Read(at, text)
		if err != nil {
			return s
		}
		l.now.Settings = next
		return next
	})
}

// done ends typing: what could not be used gives way to what stands.
func (l *line) done() {
	l.bench.Rest()
	l.field.Put(l.Text(l.now), true)
	l.calm()
}

func (l *line) complain(err error) {
	text := sentence(err)
	l.fault.SetText(text)
	l.fault.Show()
	l.box.Refresh()
	l.bench.Hint(l.Name + ": " + text)
}

func (l *line) calm() {
	if l.fault.Visible() {
		l.fault.Hide()
		l.box.Refresh()
		l.field.notice() // in place of the fault
	}
}

// sentence is a fault with a capital and a full stop.
func sentence(err error) string {
	text := []rune(err.Error())
	if len(text) > 0 {
		text[0] = unicode.ToUpper(text[0])
	}
	return string(text) + "."
}
