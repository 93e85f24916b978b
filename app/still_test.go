package app

import (
	"image"
	"image/gif"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"grainstack/app/session"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/render/look"
	"grainstack/render/still"
)

// TestLightShowsAtOnce: another light or ground makes another picture, and can't be undone, being no setting.
func TestLightShowsAtOnce(t *testing.T) {
	r := newRig(t, bowl())
	for _, change := range []func(*session.View){
		func(v *session.View) { v.Light = look.Spot },
		func(v *session.View) { v.Ground = look.OnPlinth },
	} {
		before := r.look.Serial()
		r.Look(change)
		r.drain() // a change that falls on an answer is followed together with it
		if r.look.Serial() == before {
			t.Error("no other picture was asked for")
		}
		r.until("the picture is there", func() bool { return !r.look.Drawing() })
	}
	if r.bench.UndoName() != "" {
		t.Errorf("there is %q to undo", r.bench.UndoName())
	}
}

// TestStillAndTurntableAreWritten: both are drawn beside the window from what it shows, whole and closed.
func TestStillAndTurntableAreWritten(t *testing.T) {
	r := newRig(t, bowl())
	r.Look(func(v *session.View) { v.CutAway, v.Lift = true, 12 })
	dir := t.TempDir()
	take := func(name string, turns bool) *os.File {
		path := filepath.Join(dir, name)
		size := image.Pt(48, 36)
		r.making.drawStill(view.StillAsk{LookAsk: view.SightOf(r.bench, r.look.Camera, size).Plain(size), Path: path, Turns: turns})
		r.until(name+" is written", func() bool { return r.tasks.still.State() == task.Done })
		f, err := os.Open(path)
		if err != nil {
			t.Fatalf("%v; margin says %q", err, r.margin.words.Text())
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	if img, err := png.Decode(take("a.png", false)); err != nil || img.Bounds().Dx() != 48 {
		t.Errorf("still: %v", err)
	}
	_, frames, _ := still.UsualTurn()
	if g, err := gif.DecodeAll(take("a.gif", true)); err != nil || len(g.Image) != frames {
		t.Errorf("turntable: %v", err)
	}
}

// TestStillCanBeCalledOff: cancel leaves no new file behind, and one that was there as it was.
func TestStillCanBeCalledOff(t *testing.T) {
	r := newRig(t, bowl())
	dir := t.TempDir()
	kept := filepath.Join(dir, "kept.png")
	if err := os.WriteFile(kept, []byte("as it was"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{filepath.Join(dir, "new.png"), kept} {
		r.making.askStill(path, false)
		r.run("cancel")
		if r.tasks.still.State() != task.Idle {
			t.Errorf("%s is still being drawn", path)
		}
	}
	r.tasks.still.Wait()
	if all, err := os.ReadDir(dir); err != nil || len(all) != 1 {
		t.Errorf("calling off left %v, %v", all, err)
	}
	if b, err := os.ReadFile(kept); err != nil || string(b) != "as it was" {
		t.Errorf("the file that was there is %q, %v", b, err)
	}
}
