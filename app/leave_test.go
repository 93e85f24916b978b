package app

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"grainstack/app/paper"
	"grainstack/slicing/job"
)

// closed tells whether the window was closed: its loops take nothing any more. The rig gets another window to close in the end.
func (r *rig) closed() bool {
	r.loops.later.Drop()
	r.loops.later.Wait()
	r.loops.later.Ask(struct{}{})
	if r.loops.later.Busy() {
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

func TestUnsavedWorkIsSavedAndLeft(t *testing.T) {
	r := newRig(t, job.Demo())
	r.wall(26)
	r.Rest()
	r.path = filepath.Join(t.TempDir(), "gone", "demo.grainstack") // no such folder
	r.run("close")
	r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r.until("the fault is told", func() bool { return !r.loops.save.Busy() && r.win.Canvas().Overlays().Top() != nil })
	if r.closed() || r.leaving {
		t.Fatal("the window was closed though nothing could be saved")
	}
	r.page.Hide()
	r.path = filepath.Join(t.TempDir(), "demo.grainstack")
	r.run("close")
	r.win.Canvas().Focused().(*paper.Choice).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r.until("it is saved and closed", func() bool { return !r.loops.save.Busy() && r.closed() })
}
