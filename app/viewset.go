package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/state"
	"grainstack/app/view"
)

// views are the pictures of the window.
type views struct {
	look      *view.Look
	sheet     *view.Layer
	stick     *view.Stick
	panels    *view.Shop
	glueUp    *view.Shop
	saws      *view.Shop
	programs  *view.Programs
	compass   *view.Compass
	plan      *view.Layer // of the place that is picked of what needs a look
	comparing *view.Beside
	drawers   []drawer // all of them
}

// A drawer is a view of whatever kind.
type drawer interface {
	worker
	Ask(b *state.Bench, now state.Asking) bool
	Drawing() bool
	Renew()
}

// A leafer leafs through the sheets of the workshop.
type leafer struct{ *core }

// leafTo shows another panel, step or board.
func (l leafer) leafTo(s *view.Shop, at int) {
	v, _ := l.bench.Shop.Newest()
	s.TurnTo(v, at)
	l.changed()
}

// keyLeaf leafs with the arrow keys.
func (l leafer) keyLeaf(s *view.Shop, k fyne.KeyName) {
	if to, ok := s.Leaf(k); ok {
		l.leafTo(s, to)
		return
	}
	l.key(k)
}
