package state

import (
	"strings"
	"testing"

	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
)

// TestRouteSaysHowFarEachStepIs: what is settled, guessed, at work, called off or in doubt follows from the bench alone.
func TestRouteSaysHowFarEachStepIs(t *testing.T) {
	empty := New(NewShelf(stood(t).Shelf.Program, ""))
	for _, s := range empty.Route() {
		if s.Mark != Ahead || s.Words == "" {
			t.Errorf("without a piece %v is %v: %q", s.Step, s.Mark, s.Words)
		}
	}
	empty.Tasks.Open.State, empty.Tasks.Open.Share = task.Working, -1
	if s := empty.Route()[StepScan]; s.Mark != AtWork || s.Share != 0 {
		t.Errorf("while a piece is opened the scan is %+v", s)
	}
	for _, tt := range []struct {
		what string
		with func(*Bench)
		step Step
		mark Mark
		says string
	}{
		{"at first", func(*Bench) {}, StepScan, Ahead, "not been looked over"},
		{"looked over", func(b *Bench) { b.Scan.Survey = &mend.Findings{} }, StepScan, Settled, "clean"},
		{"found", func(b *Bench) { b.Scan.Survey = &mend.Findings{List: make([]mend.Finding, 3)} }, StepScan, Settled, "3 places"},
		{"survey called off", func(b *Bench) { b.Tasks.Survey.State = task.Off }, StepScan, LeftOff, "goes on"},
		{"survey at work", func(b *Bench) { b.Tasks.Survey.State, b.Tasks.Survey.Share = task.Working, 0.5 }, StepScan, AtWork, ""},
		{"made here", func(*Bench) {}, StepSize, Settled, "60 mm"},
		{"from a file", func(b *Bench) { b.Model.Piece.File = "/scan.stl" }, StepSize, Guessed, "A click asks"},
		{"from a file that says its unit", func(b *Bench) { b.Model.Piece.File, b.Model.Piece.Raw.UnitMM = "/scan.3mf", 1 }, StepSize, Settled, ""},
		{"said by hand", func(b *Bench) { b.Model.Piece.File, b.Selected.Unit = "/scan.stl", true }, StepSize, Settled, ""},
		{"of a job", func(b *Bench) { b.Model.Piece.File, b.Path = "/scan.stl", "/a.grainstack" }, StepSize, Settled, ""},
		{"tiny", func(b *Bench) { b.scale(0.1) }, StepSize, InDoubt, "far from"},
		{"solid", func(*Bench) {}, StepMend, Settled, "Nothing had"},
		{"mended otherwise", func(b *Bench) { b.Model.Key = MendKey{} }, StepMend, AtWork, ""},
		{"mending called off", func(b *Bench) {
			b.Model.Key = MendKey{}
			b.Tasks.Mend.Key, b.Tasks.Mend.State = b.MendKey(), task.Off
		}, StepMend, LeftOff, "goes on"},
		{"mending failed", func(b *Bench) {
			b.Model.Key = MendKey{}
			b.Tasks.Mend.Key, b.Tasks.Mend.State, b.Tasks.Mend.Fault = b.MendKey(), task.Failed, "It can't be."
		}, StepMend, InDoubt, "can't be"},
		{"as it came", func(b *Bench) { b.Model.Piece.File = "/scan.stl" }, StepStand, Guessed, "as its file has it"},
		{"the catalogue's thickness", func(*Bench) {}, StepBoard, Guessed, "measure yours"},
		{"hollow at work", func(b *Bench) { b.wall(12); b.Tasks.Hollow.State = task.Working }, StepWall, AtWork, ""},
		{"hollow called off", func(b *Bench) { b.wall(12); b.Tasks.Hollow.State = task.Off }, StepWall, LeftOff, "goes on"},
		{"solid by choice", func(b *Bench) { b.wall(0) }, StepWall, Settled, "solid"},
		{"cutters not followed", func(*Bench) {}, StepReach, Ahead, ""},
		{"cutters called off", func(b *Bench) { b.Tasks.Reach.State = task.Off }, StepReach, LeftOff, "missing from what needs a look"},
		{"laying called off", func(b *Bench) { b.Tasks.Shop.State = task.Off }, StepPanels, LeftOff, "goes on"},
		{"laying failed", func(b *Bench) { b.Tasks.Shop.State, b.Tasks.Shop.Fault = task.Failed, "nothing fits" }, StepGlue, InDoubt, "Nothing fits."},
		{"no files yet", func(*Bench) {}, StepBook, Ahead, "a click opens"},
		{"files made", func(b *Bench) { b.Made = b.Revision() + 1 }, StepBook, Settled, ""},
		{"files of before", func(b *Bench) { b.Made = b.Revision() + 1; b.wall(9) }, StepBook, Guessed, "older settings"},
	} {
		b := stood(t)
		b.Recall()
		tt.with(b)
		if s := b.Route()[tt.step]; s.Mark != tt.mark || !strings.Contains(s.Words, tt.says) {
			t.Errorf("%s: %v is %v, want %v: %q", tt.what, s.Step, s.Mark, tt.mark, s.Words)
		}
	}
}

// scale sets the scale.
func (b *Bench) scale(k float64) {
	b.Do("scale", func() job.Settings { s := b.Settings(); s.Scale = k; return s }())
}
