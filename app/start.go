package app

import (
	"grainstack/app/paper"
	"grainstack/app/view"
)

// startWords are what the first start says on the piece.
var startWords = []string{
	"Drag the piece to see all sides. Change a card, and all follows.",
	"Your own scan: drop its file on the window, or press " + controlKey + "+O.",
	"The words above lead from scan to book. F1 lists the keys.",
}

// A starter says on the piece what to do, until the first change or the first place that is flown to.
type starter struct {
	*core
	on   *view.Look
	gone bool
}

// show shows the words while nothing has been done yet with the demo piece of the very first start.
func (s *starter) show() {
	b := s.bench
	if s.gone || b.Model == nil {
		return
	}
	if _, _, flown := b.Snag(); flown || b.Model.Piece.File != "" || b.Dirty() || s.app.Preferences().Bool(prefBegun) {
		s.gone = true
		s.app.Preferences().SetBool(prefBegun, true)
		s.on.Lay(nil)
		return
	}
	if !s.on.Laid() {
		lines := make([]*paper.Words, len(startWords))
		for i, words := range startWords {
			lines[i] = paper.Write(words, paper.Small, paper.Ink).Cut()
		}
		s.on.Lay(lines)
	}
}
