package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"

	"grainstack/app/picture"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func TestStartShowsEverything(t *testing.T) {
	r := newRig(t, ring())
	if r.look.Frame() == nil || r.sheet.Frame() == nil || r.stick.Frame() == nil {
		t.Fatal("a pane is empty")
	}
	for _, want := range []string{"what=ticket", "settled=true"} {
		if !strings.Contains(r.log.String(), want) {
			t.Errorf("the trace lacks %q", want)
		}
	}
	if got := r.top.facts.Text(); !strings.Contains(got, "246 × 246 × 86 mm") || !strings.Contains(got, "one solid") {
		t.Errorf("the top line says %q", got)
	}
	if got := r.sheet.Caption.Text(); got != "Layer 1 of 6 · 0 to 16 mm · solid" {
		t.Errorf("the sheet is called %q", got)
	}
}

func TestWallMovesTheWeightAtOnceAndOneUndoTakesItBack(t *testing.T) {
	r := newRig(t, ring())
	before := r.bench.Figures.Totals.WeightKg
	was := r.bench.Figures
	for mm := 21.0; mm <= 35; mm++ {
		r.wall(mm)
		r.drain()
		if r.bench.Stale() || r.bench.Figures == was {
			t.Fatal("the figures did not follow at once")
		}
	}
	r.Rest()
	if got := r.bench.Figures.Totals.WeightKg; got <= before {
		t.Errorf("a thicker wall weighs %v, before %v", got, before)
	}
	r.pay()
	if got := r.top.undo.Text; got != "Undo wall" {
		t.Errorf("the button says %q", got)
	}
	r.settle()
	r.run("undo")
	if r.bench.Settings().Wall != 20 || r.bench.UndoName() != "" {
		t.Errorf("after one undo the wall is %v, undo is %q", r.bench.Settings().Wall, r.bench.UndoName())
	}
	r.settle()
	if got := r.bench.Figures.Totals.WeightKg; got != before {
		t.Errorf("after undo it weighs %v, want %v", got, before)
	}
	r.run("redo")
	if r.bench.Settings().Wall != 35 {
		t.Errorf("redo: %v", r.bench.Settings().Wall)
	}
}

func TestStraightCoresComeFromTheLoop(t *testing.T) {
	r := newRig(t, ring())
	carved := r.bench.Figures.Totals.Core
	r.Do("core", func(s job.Settings) job.Settings { s.Core = job.Straight; return s })
	r.follow()
	if !r.bench.Stale() {
		t.Error("upright pockets were worked out on the window's goroutine")
	}
	r.settle()
	if got := r.bench.Figures.Totals.Core; got <= 0 || got >= carved {
		t.Errorf("straight core %v, carved %v: want less, but some", got, carved)
	}
}

func TestDraggingTurnsTheViewOrThePiece(t *testing.T) {
	r := newRig(t, ring())
	view, turn := r.look.Camera.Camera, r.bench.Settings().Turn
	drag := func() {
		press := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(200, 200)}}
		r.look.MouseDown(press)
		for range 10 {
			r.look.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(6, 3)})
		}
		r.look.DragEnd()
		r.look.MouseUp(press)
	}
	drag()
	if r.look.Camera.Camera == view || r.bench.Settings().Turn != turn {
		t.Error("dragging did not turn the view alone")
	}
	r.run("card 3")
	view = r.look.Camera.Camera
	drag()
	if r.look.Camera.Camera != view || r.bench.Settings().Turn == turn {
		t.Error("with the Stand card open, dragging did not turn the piece alone")
	}
	r.settle()
	if r.bench.UndoName() != "turn the piece" {
		t.Errorf("undo is called %q", r.bench.UndoName())
	}
	r.run("undo")
	if r.bench.Settings().Turn != turn {
		t.Error("one undo does not take the whole turn back")
	}
	r.settle()
	r.run("whole piece")
	if r.look.Camera.Camera != picture.FirstCamera() {
		t.Error("the view was not reset")
	}
}

func TestClicksOnThePiece(t *testing.T) {
	r := newRig(t, job.NewPiece("box", solidtest.Box(120, 80, 100), mesh.Raw{}))
	click := func(x, y float32) {
		at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}}
		r.look.MouseDown(at)
		r.look.MouseUp(at)
		r.until("the click is answered", func() bool { return r.look.Pick.Serial == 0 })
	}
	mid := r.look.Size()
	click(mid.Width/2, mid.Height*0.55)
	if r.bench.Layer() < 2 {
		t.Errorf("a click in the middle picked layer %d", r.bench.Layer())
	}
	r.run("lay")
	click(mid.Width/2, mid.Height*0.6)
	r.settle()
	if got := r.bench.Figures.Size.Z; got < 79.9 || got > 120.1 || got == 100 {
		t.Errorf("laid on a side, the box is %v high, want 80 or 120", got)
	}
	r.run("undo")
	r.settle()
	r.run("measure")
	click(mid.Width/2-40, mid.Height*0.6)
	click(mid.Width/2+40, mid.Height*0.6)
	if len(r.bench.Selected.Picking.Points) != 2 || r.cardState().Picked.Distance <= 0 || r.bench.Selected.Picking.What != "" {
		t.Errorf("measured %v, still picking %q", r.bench.Selected.Picking.Points, r.bench.Selected.Picking.What)
	}
}

func TestKeysAndSheets(t *testing.T) {
	r := newRig(t, ring())
	r.key(fyne.KeyUp)
	r.key(fyne.KeyUp)
	if r.bench.Layer() != 3 {
		t.Fatalf("two keys up: layer %d", r.bench.Layer())
	}
	r.settle()
	if got := r.sheet.Caption.Text(); !strings.HasPrefix(got, "Layer 3 of 6") {
		t.Errorf("the sheet is %q", got)
	}
	y := float32(r.stick.Now.Out.Y(75))
	r.clickStick(fyne.NewPos(40, y))
	if r.bench.Layer() != 5 {
		t.Errorf("a click at 75 mm picked layer %d", r.bench.Layer())
	}
	r.settle()
	at := fyne.NewPos(120, 200)
	before, _ := r.sheet.Now.Out.ToMM(float64(at.X), float64(at.Y))
	r.sheet.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, 75)})
	r.settle()
	after, ok := r.sheet.Now.Out.ToMM(float64(at.X), float64(at.Y))
	if !ok || after.Sub(before).Len() > 0.5 {
		t.Errorf("zooming moved what is under the pointer from %v to %v", before, after)
	}
	if r.sheet.Look.Zoom < 1.5 {
		t.Errorf("three notches zoom to %v", r.sheet.Look.Zoom)
	}
}

func TestViewsUnitsAndShade(t *testing.T) {
	r := newRig(t, ring())
	for _, name := range []string{"cut", "lift", "marks", "ghost"} {
		was := r.bench.View
		r.run(name)
		if r.bench.View == was {
			t.Errorf("%s changed nothing", name)
		}
		r.settle()
	}
	r.run("units")
	r.settle()
	if !strings.Contains(r.sheet.Caption.Text(), " in") || !strings.Contains(r.top.facts.Text(), " in") {
		t.Errorf("inches: %q, %q", r.sheet.Caption.Text(), r.top.facts.Text())
	}
	dark := r.dark()
	r.run("shade")
	r.until("the pictures are dyed", func() bool { return !r.look.Drawing() && len(r.queue) == 0 })
	if r.dark() == dark {
		t.Error("still the same shade")
	}
}

func TestAnOpenPieceIsShownAndItsFiguresAreWithheld(t *testing.T) {
	r := newRig(t, bowl())
	r.mendSet("leave", func(m *mend.Settings) { m.Off = true })
	r.until("the scan is back", func() bool {
		return r.bench.Model.Piece == r.bench.Scan.Raw.Piece && !r.bench.Stale() && len(r.queue) == 0
	})
	if r.bench.Figures.Withheld.None() || len(r.bench.Figures.Layers) == 0 {
		t.Fatalf("withheld %q, %d layers", r.bench.Figures.Withheld, len(r.bench.Figures.Layers))
	}
	r.until("the look is there", func() bool { return r.look.Frame() != nil })
	r.until("the top line says so", func() bool { return strings.Contains(r.top.facts.Text(), "not closed") }) // with the next picture
}

func TestErrorsLeaveThePieceOnTheBench(t *testing.T) {
	r := newRig(t, ring())
	dir := t.TempDir()
	bad := filepath.Join(dir, "torn.stl")
	if err := os.WriteFile(bad, []byte("this is no mesh"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{bad, filepath.Join(dir, "gone.stl")} {
		r.dropped([]fyne.URI{storage.NewFileURI(path)})
		r.until("the error is told", func() bool { return r.win.Canvas().Overlays().Top() != nil })
		if r.bench.Model == nil || r.bench.Model.Piece.Name != "ring" {
			t.Error("the piece has gone")
		}
		r.win.Canvas().Overlays().Top().Hide()
		for o := r.win.Canvas().Overlays().Top(); o != nil; o = r.win.Canvas().Overlays().Top() {
			r.win.Canvas().Overlays().Remove(o)
		}
	}
	good := filepath.Join(dir, "ball.stl")
	f, err := os.Create(good)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, solidtest.Sphere(40, 2000)), f.Close()); err != nil {
		t.Fatal(err)
	}
	r.dropped([]fyne.URI{storage.NewFileURI(good), storage.NewFileURI(bad)}) // scans of one piece, which they are not
	r.until("the error is told", func() bool { return len(r.pages) > 0 })
	if r.pages[0].Hide(); r.bench.Model.Piece.Name != "ring" {
		t.Error("one of two files was opened")
	}
	r.dropped([]fyne.URI{storage.NewFileURI(good)})
	r.until("the ball is there", func() bool { return r.bench.Model.Piece.Name == "ball" })
	r.settle()
	if recent := r.app.Preferences().StringList(prefRecent); len(recent) != 1 || recent[0] != good {
		t.Errorf("recent files: %v", recent)
	}
	job1 := filepath.Join(dir, "ball.grainstack")
	minutes := []hours.Record{{Machine: "middle", Layer: 2, Reckoned: 60, Took: 75}}
	r.bench.Model.Job.Minutes = minutes // as a job holds what the window never shows
	r.wall(9)
	r.saveTo(job1)
	r.until("it is saved", func() bool { return r.bench.Path == job1 })
	was := r.bench.Model
	r.openPiece(job1)
	r.until("the job is open", func() bool { return r.bench.Model != was && r.bench.Path == job1 })
	if !slices.Equal(r.bench.Model.Job.Minutes, minutes) {
		t.Errorf("the job's minutes came back as %v", r.bench.Model.Job.Minutes)
	}
	if r.bench.Settings().Wall != 9 || r.bench.UndoName() != "" {
		t.Errorf("the job's wall is %v, undo %q", r.bench.Settings().Wall, r.bench.UndoName())
	}
}

// Each command of the table has words and a place in the menu, and no two have the same key.
func TestCommandTable(t *testing.T) {
	r := newRig(t, ring())
	names, keys := map[string]bool{}, map[string]string{}
	for _, c := range r.commands() {
		if c.words == "" || c.menu == "" || c.do == nil || names[c.name] {
			t.Errorf("%q is not whole, or there twice", c.name)
		}
		names[c.name] = true
		for _, k := range []string{string(c.key), fmt.Sprint("Ctrl ", c.ctrl, c.shift)} {
			if k == "" || c.ctrl == "" && strings.HasPrefix(k, "Ctrl") {
				continue
			}
			if keys[k] != "" {
				t.Errorf("%s is both %q and %q", k, keys[k], c.name)
			}
			keys[k] = c.name
		}
		if k := c.keys(); k != "" && keys[k] != c.name {
			if keys[k] != "" {
				t.Errorf("%s is both %q and %q", k, keys[k], c.name)
			}
			keys[k] = c.name
		}
	}
	withKeys := 0
	for _, c := range r.commands() {
		if c.keys() != "" {
			withKeys++
		}
	}
	listed, titles := 0, map[string]bool{}
	for _, g := range r.keyGroups() {
		if len(g.lines) == 0 || titles[g.title] {
			t.Errorf("the group %q is empty, or there twice", g.title)
		}
		titles[g.title] = true
		listed += len(g.lines)
	}
	for _, g := range handKeys {
		withKeys += len(g.lines)
	}
	if listed != withKeys+1 { // redo has two
		t.Errorf("the page lists %d keys, want %d", listed, withKeys+1)
	}
	r.run("keys")
	if r.win.Canvas().Overlays().Top() == nil {
		t.Error("the page of keys did not open")
	}
}

func TestTurnedPieceIsSetDownWhereItWillStand(t *testing.T) {
	r := newRig(t, ring())
	r.turnBy(geom.TurnXYZ(90, 0, 0))
	r.settle()
	if got := r.look.Place.Height; got < 245 || got > 247 {
		t.Errorf("on edge the ring stands %v high, want 246", got)
	}
}

func TestABadFirstFileLeavesTheDemoPieceOnTheBench(t *testing.T) {
	r := newRig(t, ring())
	r.bench.Model, r.bench.Standing, r.bench.Figures = nil, nil, nil
	r.openPiece(filepath.Join(t.TempDir(), "gone.stl"))
	r.until("the error is told", func() bool { return r.win.Canvas().Overlays().Top() != nil })
	r.until("the demo piece is there", func() bool { return r.bench.Model != nil })
	r.key(fyne.KeyN)
	if r.dark() {
		t.Error("a key reached the bench under an open page")
	}
	r.key(fyne.KeyEscape)
	if r.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape did not close the page")
	}
}
