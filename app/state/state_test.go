package state

import (
	"context"
	"errors"
	"testing"

	"grainstack/app/task"
	"grainstack/assets/stocktest"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

// stood is a bench with a box on it that stands as the settings say and counts as mended.
func stood(t *testing.T) *Bench {
	t.Helper()
	b := New(NewShelf(stocktest.Catalogue(t), ""))
	p := job.NewPiece("box", solidtest.Box(60, 50, 40), mesh.Raw{})
	b.Put(NewModel(jobfile.Job{Piece: p}, b.Settings()))
	b.Exchange(b.Model.Mended(p, b.MendKey()))
	st, err := job.Stand(context.Background(), p, b.Settings().Stand())
	if err != nil {
		t.Fatal(err)
	}
	b.Standing = st
	return b
}

func (b *Bench) wall(mm float64) {
	s := b.Settings()
	s.Wall = mm
	b.Do("wall", s)
}

// TestFiguresFollowSettings: they are stale until they are looked up anew, and nothing is put on them twice.
func TestFiguresFollowSettings(t *testing.T) {
	b := stood(t)
	b.Recall()
	first := b.Figures
	if first == nil || b.Stale() {
		t.Fatalf("there are no figures: %s", b.Why())
	}
	b.Recall()
	if b.Figures != first {
		t.Error("nothing has changed, but there are other figures")
	}
	b.wall(12)
	if !b.Stale() {
		t.Error("figures of another wall pass for the present ones")
	}
	b.Recall()
	if b.Stale() || b.Figures.For.Wall != 12 {
		t.Errorf("stale %v, for a wall of %v", b.Stale(), b.Figures.For.Wall)
	}
	was := b.Figures.Totals.RouterMin()
	b.Reach.Records = append(b.Reach.Records, hours.Record{Machine: b.Settings().Machine, Layer: 1, Reckoned: 10, Took: 30})
	b.Recall()
	if got := b.Figures.Totals.RouterMin(); got <= was {
		t.Errorf("a machine that took three times as long is reckoned with %v min, before %v", got, was)
	}
	b.Fail(b.FigureKey(), errors.New("the saw is blunt"))
	b.Recall()
	if b.Figures != nil || b.Why() != "the saw is blunt" {
		t.Errorf("what failed is tried again without a change: %v, %q", b.Figures, b.Why())
	}
	b.wall(14)
	b.Recall()
	if b.Figures == nil {
		t.Error("another wall has no figures after one that failed")
	}
}

// TestProvisionalWhileLookedThrough: figures of a scan that looks clean are there at once, and pass for settled ones only when it
// has been looked through or is left as it is.
func TestProvisionalWhileLookedThrough(t *testing.T) {
	b := stood(t)
	b.Model.Key = MendKey{Scan: b.Model.Piece.Scan}
	b.Recall()
	if b.Figures == nil || b.Stale() || !b.BeingMended() || !b.Provisional() {
		t.Fatalf("stale %v, being mended %v, provisional %v", b.Stale(), b.BeingMended(), b.Provisional())
	}
	b.Tasks.Mend = task.Status[MendKey]{Key: b.MendKey(), State: task.Off}
	if b.Provisional() {
		t.Error("the scan is left as it is, but its figures don't stand")
	}
	b.Tasks.Mend = task.Status[MendKey]{}
	b.Exchange(b.Model.Mended(b.Model.Piece, b.MendKey()))
	b.Recall()
	if b.Provisional() {
		t.Error("it was clean, but its figures don't stand")
	}
}

// TestMendedAsItWasBefore: a piece that was made for these settings is put back at once, and one that nobody makes is told.
func TestMendedAsItWasBefore(t *testing.T) {
	b := stood(t)
	before := b.Model
	s := b.Settings()
	s.Mend.Smooth = 0.5
	b.Do("smoothing", s)
	if !b.BeingMended() || b.MendFault() != "" {
		t.Error("another piece is wanted, but none is on its way")
	}
	for _, tt := range []struct {
		as   task.State
		want string
	}{{task.Failed, "no"}, {task.Off, "Mending was called off: the piece is as it was before."}} {
		b.Tasks.Mend = task.Status[MendKey]{Key: b.MendKey(), State: tt.as, Fault: "no"}
		if b.BeingMended() || b.MendFault() != tt.want {
			t.Errorf("state %v: on its way %v, %q", tt.as, b.BeingMended(), b.MendFault())
		}
	}
	same := *before.Piece // of the same scan
	smooth := &same
	b.Exchange(before.Mended(smooth, b.MendKey()))
	if b.BeingMended() || b.Model.Piece != smooth {
		t.Error("it is mended, but not there")
	}
	b.Session.Undo()
	b.Recall()
	if b.Model.Piece != before.Piece || b.BeingMended() {
		t.Error("undone, the piece of before is not back")
	}
	b.Session.Redo()
	b.Recall()
	if b.Model.Piece != smooth {
		t.Error("done again, the smooth piece is not back")
	}
}

// TestAWorkshopOfBeforeComesBack: of places that were undone it is kept, and of others it is told to be of older settings.
func TestAWorkshopOfBeforeComesBack(t *testing.T) {
	b := stood(t)
	b.Recall()
	first, second := &workshop.Workshop{Improved: true}, &workshop.Workshop{Improved: true}
	b.Shop.Take(b.Shop.Key(), first)
	b.Session.Put("moved part", job.Places{})
	if v, now := b.Shop.Newest(); v != first || now || !b.Shop.Placing() || b.Shop.Stale() {
		t.Errorf("other places: now %v, placing %v", now, b.Shop.Placing())
	}
	b.Shop.Take(b.Shop.Key(), second)
	b.Session.Undo()
	b.Recall()
	if v, now := b.Shop.Newest(); v != first || !now {
		t.Error("the workshop of before is not back")
	}
	b.wall(9)
	if _, now := b.Shop.Newest(); now || b.Shop.Placing() || !b.Shop.Stale() {
		t.Error("a workshop of another wall passes for the present one")
	}
}
