package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// steps go back and forward among what was chosen, and make those that a key alone stands for.
type steps struct {
	*core
	on    *views
	tasks *tasks
}

// stepCommands are theirs.
func (s *steps) stepCommands() []command {
	hasPiece := func() bool { return s.bench.Model != nil }
	all := []command{
		{name: "undo", menu: "Change", words: "Undo", ctrl: fyne.KeyZ, canvasOnly: true, enabled: func() bool { return s.bench.UndoName() != "" }, do: s.undo},
		{name: "redo", menu: "Change", words: "Redo", ctrl: fyne.KeyY, canvasOnly: true, enabled: func() bool { return s.bench.RedoName() != "" }, do: s.redo},
	}
	for i, one := range []struct {
		words string
		key   fyne.KeyName
	}{{"Turn forward 90°", fyne.KeyX}, {"Turn sideways 90°", fyne.KeyY}, {"Turn round 90°", fyne.KeyZ}} {
		var a [3]float64
		a[i] = 90
		all = append(all, command{name: one.words, menu: "Change", words: one.words, key: one.key, enabled: hasPiece, do: func() {
			s.turnBy(geom.TurnXYZ(a[0], a[1], a[2]))
		}})
	}
	return all
}

func (s *steps) undo() {
	if _, ok := s.bench.Undo(); ok {
		s.stepped()
	}
}

func (s *steps) redo() {
	if _, ok := s.bench.Redo(); ok {
		s.stepped()
	}
}

// stepped follows a step back or forward.
func (s *steps) stepped() {
	s.on.panels.Hand = edit.Hand{}
	s.changed()
}

// retry is the maker's word to work out after all what failed or was called off.
func (s *steps) retry(again func()) {
	again()
	s.changed()
}

func (s *steps) turnBy(t geom.Turn) {
	s.Do("quarter turn", func(now job.Settings) job.Settings {
		now.Turn = now.Turn.Then(t)
		return now
	})
	s.Rest()
}
