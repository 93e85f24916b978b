package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// A Select is the toolkit's, but for one that has not been drawn yet: a card's that a key has just folded out under the pointer,
// say. Such a one is on no canvas, so that its list could not open; it leaves clicks and keys alone until it is.
type Select struct{ widget.Select }

// NewSelect is a choice between names.
func NewSelect(names []string, chosen func(string)) *Select {
	s := &Select{widget.Select{Options: names, OnChanged: chosen}}
	s.ExtendBaseWidget(s)
	return s
}

// Tapped opens the list.
func (s *Select) Tapped(e *fyne.PointEvent) {
	if Drawn(s) {
		s.Select.Tapped(e)
	}
}

// TypedKey opens the list, or chooses.
func (s *Select) TypedKey(e *fyne.KeyEvent) {
	if Drawn(s) {
		s.Select.TypedKey(e)
	}
}

// Drawn reports whether something is on a canvas: before that it can't open anything over the window.
func Drawn(o fyne.CanvasObject) bool { return fyne.CurrentApp().Driver().CanvasForObject(o) != nil }
