package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// A Select is the toolkit's, but for one that has not been drawn yet: a card's that a key has just folded out under the pointer,
// say. Such a one is on no canvas, so that its list could not open; it leaves clicks and keys alone until it is.
type Select struct {
	widget.Select
	focused bool
}

// NewSelect is a choice between names.
func NewSelect(names []string, chosen func(string)) *Select {
	s := &Select{Select: widget.Select{Options: names, OnChanged: chosen}}
	s.ExtendBaseWidget(s)
	return s
}

// Tapped opens the list.
func (s *Select) Tapped(e *fyne.PointEvent) {
	if Drawn(s) {
		s.Select.Tapped(e)
	}
}

// TypedKey opens the list, or goes to the next of its names; other keys are the window's.
func (s *Select) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		s.Tapped(nil)
	case fyne.KeySpace, fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
		if Drawn(s) {
			s.Select.TypedKey(e)
		}
	default:
		PassOn(s, e)
	}
}

// TypedRune is for the window.
func (s *Select) TypedRune(r rune) {
	if r != ' ' {
		PassRune(s, r)
	}
}

// FocusGained rings it.
func (s *Select) FocusGained() {
	s.focused = true
	s.Select.FocusGained()
	Reveal(s)
}

// FocusLost ends that.
func (s *Select) FocusLost() {
	s.focused = false
	s.Select.FocusLost()
}

// CreateRenderer is the toolkit's, with a ring.
func (s *Select) CreateRenderer() fyne.WidgetRenderer {
	return Ringed(s.Select.CreateRenderer(), s, func() bool { return s.focused })
}

// Drawn reports whether something is on a canvas: before that it can't open anything over the window.
func Drawn(o fyne.CanvasObject) bool { return fyne.CurrentApp().Driver().CanvasForObject(o) != nil }
