package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/app/route"
	"grainstack/app/view"
)

// startWords are what the first start says on the piece.
var startWords = []string{
	"Drag the piece to see all sides. Change a card, and all follows.",
	"Your own scan: drop its file on the window, or press " + controlKey + "+O.",
	"The words above lead from scan to book. F1 lists the keys.",
}

// A starter says on the piece what to do first: at the very first start, until the first change or the first place that is flown
// to, and of a scan whose unit is not known and whose size is unlikely, until the maker has said it.
type starter struct {
	*core
	on   *view.Look
	ask  func() // in which unit the file is
	gone bool
	lies []string // on the piece
}

// show shows what there is to say.
func (s *starter) show() {
	b := s.bench
	switch doubt := route.Doubts(b); {
	case s.begins():
		s.lay(startWords, false)
	case doubt != "":
		s.lay([]string{doubt}, true)
	default:
		s.lay(nil, false)
	}
}

// begins reports whether nothing has been done yet with the demo piece of the very first start.
func (s *starter) begins() bool {
	b := s.bench
	if s.gone || b.Model == nil {
		return false
	}
	if _, _, flown := b.Snag(); flown || b.Model.Piece.File != "" || b.Dirty() || s.app.Preferences().Bool(prefBegun) {
		s.gone = true
		s.app.Preferences().SetBool(prefBegun, true)
	}
	return !s.gone
}

// lay lays words on the piece, with what answers them where they ask.
func (s *starter) lay(words []string, asks bool) {
	if slices.Equal(words, s.lies) {
		return
	}
	s.lies = words
	var all []fyne.CanvasObject
	for _, one := range words {
		all = append(all, paper.Write(one, paper.Small, paper.Ink).Cut())
	}
	if asks {
		all = append(all, container.NewHBox(paper.NewButton("Say how large it is", s.ask)))
	}
	s.on.Lay(all)
}
