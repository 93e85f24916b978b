package route

import (
	"context"
	"strings"
	"testing"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestRouteSaysHowFarEachStepIs: what is settled, guessed, at work, called off or in doubt follows from the bench alone.
func TestRouteSaysHowFarEachStepIs(t *testing.T) {
	empty := state.New(state.NewShelf(stocktest.Catalogue(t), ""))
	for _, s := range Of(empty) {
		if s.Mark != Ahead || s.Words == "" {
			t.Errorf("without a piece %v is %v: %q", s.Step, s.Mark, s.Words)
		}
	}
	empty.Tasks.Open.State, empty.Tasks.Open.Share = task.Working, -1
	if s := Of(empty)[Scan]; s.Mark != AtWork || s.Share != 0 {
		t.Errorf("while a piece is opened the scan is %+v", s)
	}
	for _, tt := range []struct {
		what string
		with func(*state.Bench)
		step Step
		mark Mark
		says string
	}{
		{"at first", func(*state.Bench) {}, Scan, Ahead, "not been looked over"},
		{"looked over", func(b *state.Bench) { b.Scan.Survey = &mend.Findings{} }, Scan, Settled, "clean"},
		{"found", func(b *state.Bench) { b.Scan.Survey = &mend.Findings{List: make([]mend.Finding, 3)} }, Scan, Settled, "3 places"},
		{"survey called off", func(b *state.Bench) { b.Tasks.Survey.State = task.Off }, Scan, LeftOff, "goes on"},
		{"survey at work", func(b *state.Bench) { b.Tasks.Survey.State, b.Tasks.Survey.Share = task.Working, 0.5 }, Scan, AtWork, ""},
		{"made here", func(*state.Bench) {}, Size, Settled, "60 mm"},
		{"from a file", func(b *state.Bench) { b.Model.Piece.File = "/scan.stl" }, Size, Guessed, "A click asks"},
		{"from a file that says its unit", func(b *state.Bench) { b.Model.Piece.File, b.Model.Piece.Raw.UnitMM = "/scan.3mf", 1 }, Size, Settled, ""},
		{"said by hand", func(b *state.Bench) { b.Model.Piece.File, b.Selected.Unit = "/scan.stl", true }, Size, Settled, ""},
		{"of a job", func(b *state.Bench) { b.Model.Piece.File, b.Path = "/scan.stl", "/a.grainstack" }, Size, Settled, ""},
		{"tiny", func(b *state.Bench) { set(b, func(s *job.Settings) { s.Scale = 0.1 }) }, Size, InDoubt, "far from"},
		{"solid", func(*state.Bench) {}, Mend, Settled, "Nothing had"},
		{"mended otherwise", func(b *state.Bench) { b.Model.Key = state.MendKey{} }, Mend, AtWork, ""},
		{"mending called off", func(b *state.Bench) {
			b.Model.Key = state.MendKey{}
			b.Tasks.Mend.Key, b.Tasks.Mend.State = b.MendKey(), task.Off
		}, Mend, LeftOff, "goes on"},
		{"mending failed", func(b *state.Bench) {
			b.Model.Key = state.MendKey{}
			b.Tasks.Mend.Key, b.Tasks.Mend.State, b.Tasks.Mend.Fault = b.MendKey(), task.Failed, "It can't be."
		}, Mend, InDoubt, "can't be"},
		{"as it came", func(b *state.Bench) { b.Model.Piece.File = "/scan.stl" }, Stand, Guessed, "as its file has it"},
		{"the catalogue's thickness", func(*state.Bench) {}, Board, Guessed, "measure yours"},
		{"hollow at work", func(b *state.Bench) {
			set(b, func(s *job.Settings) { s.Wall = 12 })
			b.Tasks.Hollow.State = task.Working
		}, Wall, AtWork, ""},
		{"hollow called off", func(b *state.Bench) { set(b, func(s *job.Settings) { s.Wall = 12 }); b.Tasks.Hollow.State = task.Off }, Wall, LeftOff, "goes on"},
		{"solid by choice", func(b *state.Bench) { set(b, func(s *job.Settings) { s.Wall = 0 }) }, Wall, Settled, "solid"},
		{"cutters not followed", func(*state.Bench) {}, Reach, Ahead, ""},
		{"cutters called off", func(b *state.Bench) { b.Tasks.Reach.State = task.Off }, Reach, LeftOff, "missing from what needs a look"},
		{"laying called off", func(b *state.Bench) { b.Tasks.Shop.State = task.Off }, Panels, LeftOff, "goes on"},
		{"laying failed", func(b *state.Bench) { b.Tasks.Shop.State, b.Tasks.Shop.Fault = task.Failed, "nothing fits" }, Glue, InDoubt, "Nothing fits."},
		{"no files yet", func(*state.Bench) {}, Book, Ahead, "a click opens"},
		{"files made", func(b *state.Bench) { b.Made = b.Revision() + 1 }, Book, Settled, ""},
		{"files of before", func(b *state.Bench) { b.Made = b.Revision() + 1; set(b, func(s *job.Settings) { s.Wall = 9 }) }, Book, Guessed, "older settings"},
	} {
		b := stood(t)
		b.Recall()
		tt.with(b)
		if s := Of(b)[tt.step]; s.Mark != tt.mark || !strings.Contains(s.Words, tt.says) {
			t.Errorf("%s: %v is %v, want %v: %q", tt.what, s.Step, s.Mark, tt.mark, s.Words)
		}
	}
}

// set changes the settings.
func set(b *state.Bench, change func(*job.Settings)) {
	s := b.Settings()
	change(&s)
	b.Do("set", s)
}

// stood is a bench with a box on it that stands as the settings say and counts as mended.
func stood(t *testing.T) *state.Bench {
	t.Helper()
	b := state.New(state.NewShelf(stocktest.Catalogue(t), ""))
	p := job.NewPiece("box", solidtest.Box(60, 50, 40), mesh.Raw{})
	b.Put(state.NewModel(jobfile.Job{Piece: p}, b.Settings()))
	b.Exchange(b.Model.Mended(p, b.MendKey()))
	st, err := job.Stand(context.Background(), p, b.Settings().Stand())
	if err != nil {
		t.Fatal(err)
	}
	b.Standing = st
	return b
}
