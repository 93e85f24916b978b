package app

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A margin is the line at the foot: a word on what is under the hand, and what is being worked out.
type margin struct {
	words   *paper.Told
	working *paper.Words
	stop    *paper.Button
	bar     *bar
	off     bool   // the button goes on with what was called off
	said    string // that is on the line
	whole   fyne.CanvasObject
}

// callOff is on the button that calls off what is being worked out.
const callOff = "call off"

func newMargin(cancel, goOn func()) *margin {
	m := &margin{words: paper.Tell("", paper.Small, paper.Pencil), working: paper.Write("", paper.Small, paper.Pencil), bar: newBar()}
	m.stop = paper.NewButton(callOff, func() {
		if m.off {
			goOn()
		} else {
			cancel()
		}
	})
	m.stop.Importance = widget.LowImportance
	right := container.NewHBox(m.bar, m.working, m.stop)
	room := canvas.NewRectangle(color.Transparent) // keeps the line as high as its button: the panes above must not jump
	room.SetMinSize(fyne.NewSize(1, m.stop.MinSize().Height))
	m.whole = container.New(layout.NewCustomPaddedLayout(2, 3, 14, 8), container.NewStack(room, container.NewBorder(nil, nil, nil, right, m.words)))
	m.rest("")
	return m
}

// hint says a word, in place of the last.
func (m *margin) hint(words string) {
	m.said = words
	m.words.Say(words)
}

// whisper says a word where nothing else is said.
func (m *margin) whisper(words string) {
	if m.said == "" {
		m.hint(words)
	}
}

// doing says what is being worked out; done is from 0 to 1, less than 0 where that is not known.
func (m *margin) doing(what string, done float64) {
	text := what + " …"
	if done >= 0 {
		text = fmt.Sprintf("%s … %.0f %%", what, 100*done)
	}
	m.bar.put(max(0, done))
	m.at(text, false)
}

// rest says that nothing is, and what was called off, "" for nothing.
func (m *margin) rest(off string) {
	m.bar.put(-1)
	if off == "" {
		m.working.Say("")
		m.stop.Hide()
		return
	}
	m.at("called off: "+off, true)
}

// at shows words on work with the button that calls it off, or goes on with what was. The line is laid out anew only where they
// change: it is asked for with every step of a hand.
func (m *margin) at(words string, off bool) {
	if m.stop.Visible() && m.off == off && m.working.Text() == words {
		return
	}
	m.off = off
	m.working.Say(words)
	if text := map[bool]string{false: callOff, true: "go on"}[off]; m.stop.Text != text {
		m.stop.SetText(text)
	}
	m.stop.Show()
	m.whole.Refresh()
}
