package app

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// closed tells whether the window was closed: its loops take nothing any more. The rig gets another window to close in the end.
func (r *rig) closed() bool {
	r.tasks.photo.Wait()
	r.openPhoto(filepath.Join(r.t.TempDir(), "no such photo"))
	if open := r.tasks.photo.Busy(); open {
		r.tasks.photo.Drop()
		return false
	}
	r.win = r.app.NewWindow("")
	return true
}

func TestNothingChangedIsLeftWithoutAQuestion(t *testing.T) {
	r := newRig(t, ring())
	r.wall(31)
	r.Rest()
	r.run("undo")
	r.run("close")
	if r.question != nil || !r.closed() {
		t.Error("nothing would be lost, but a question is asked")
	}
}

func TestUnsavedWorkIsAskedAbout(t *testing.T) {
	r := newRig(t, ring())
	press := func(k fyne.KeyName) {
		r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: k})
	}
	r.run("keep trial") // settings are as they were, but a trial is work, too
	for _, keys := range [][]fyne.KeyName{{fyne.KeyEscape}, {fyne.KeyLeft, fyne.KeyReturn}, {fyne.KeyRight, fyne.KeyRight, fyne.KeySpace}} {
		r.run("close")
		if r.question == nil {
			t.Fatal("unsaved work is left without a question")
		}
		r.askToClose() // the corner of the window, pressed again
		for _, k := range keys {
			press(k)
		}
		if r.question != nil || r.closed() || r.win.Canvas().Overlays().Top() != nil {
			t.Fatalf("%v did not lead back to the bench", keys)
		}
	}
	r.run("close")
	press(fyne.KeyRight)
	press(fyne.KeyReturn)
	if !r.closed() {
		t.Error("the window is still open")
	}
}

// TestOpeningOverUnsavedWorkAsks as closing does: Escape and "stay" keep the bench, the second answer opens without saving, the
// first saves and opens.
func TestOpeningOverUnsavedWorkAsks(t *testing.T) {
	r := newRig(t, job.Demo())
	dir := t.TempDir()
	ball := filepath.Join(dir, "ball.stl")
	f, err := os.Create(ball)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, solidtest.Sphere(40, 2000)), f.Close()); err != nil {
		t.Fatal(err)
	}
	press := func(keys ...fyne.KeyName) {
		t.Helper()
		if r.question == nil {
			t.Fatal("nothing is asked")
		}
		for _, k := range keys {
			r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: k})
		}
	}
	opened := func(name string) {
		t.Helper()
		r.until(name+" is on the bench", func() bool { return !r.tasks.open.Busy() && !r.tasks.save.Busy() && r.bench.Model.Piece.Name == name })
	}
	demo := r.bench.Model.Piece.Name
	r.wall(26)
	r.Rest()
	for _, open := range []func(){
		func() { r.dropped([]fyne.URI{storage.NewFileURI(ball)}) },
		func() { r.run("demo") },
		func() { r.openPiece(ball) }, // from the dialog or the recent files
	} {
		open()
		open() // a second time while the question is open
		press(fyne.KeyEscape)
		open()
		press(fyne.KeyLeft, fyne.KeyReturn)
		if r.question != nil || r.tasks.open.Busy() || r.bench.Model.Piece.Name != demo || r.bench.Settings().Wall != 26 {
			t.Fatal("staying, the work has gone")
		}
	}
	r.openPiece(ball)
	press(fyne.KeyRight, fyne.KeyReturn)
	opened("ball")
	if r.bench.Dirty() {
		t.Error("a piece that was just opened is unsaved work")
	}
	r.settle()
	r.openPiece("")
	if r.question != nil {
		t.Error("nothing would be lost, but a question is asked")
	}
	opened(demo)
	r.settle()
	r.bench.Path = filepath.Join(dir, "demo.grainstack")
	r.wall(27)
	r.Rest()
	r.openPiece(ball)
	press(fyne.KeyReturn)
	opened("ball")
	j, err := jobfile.Open(t.Context(), filepath.Join(dir, "demo.grainstack"), "", r.bench.Shelf.Now, nil)
	if err != nil || j.Settings.Wall != 27 {
		t.Errorf("the job was saved with a wall of %v: %v", j.Settings.Wall, err)
	}
}

func TestUnsavedWorkIsSavedAndLeft(t *testing.T) {
	r := newRig(t, job.Demo())
	r.wall(26)
	r.Rest()
	r.bench.Path = filepath.Join(t.TempDir(), "gone", "demo.grainstack") // no such folder
	r.run("close")
	r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r.until("the fault is told", func() bool { return !r.tasks.save.Busy() && r.win.Canvas().Overlays().Top() != nil })
	if r.closed() || r.leaving != nil {
		t.Fatal("the window was closed though nothing could be saved")
	}
	r.pages[len(r.pages)-1].Hide()
	r.bench.Path = filepath.Join(t.TempDir(), "demo.grainstack")
	r.run("close")
	r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r.until("it is saved and closed", func() bool { return !r.tasks.save.Busy() && r.closed() })
}
