package app

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// mendSet changes the settings of mending.
func (r *rig) mendSet(name string, change func(*mend.Settings)) {
	r.Do(name, func(s job.Settings) job.Settings { change(&s.Mend); return s })
	r.Rest()
}

func (r *rig) mendedOnce() {
	r.t.Helper()
	r.until("it is mended", func() bool {
		return !r.bench.BeingMended() && r.bench.Model.Key == state.MendKeyOf(r.bench.Model.Piece, r.bench.Settings())
	})
}

func TestAScanIsShownAsReadAndThenMended(t *testing.T) {
	raw := bowl()
	r := newRig(t, raw) // waits until the scan itself is on the bench
	r.mendedOnce()
	if r.bench.Model.Piece == raw || !r.bench.Model.Piece.Solid() || r.bench.Model.Piece.Scan != raw.Scan {
		t.Fatalf("mended to %+v", r.bench.Model.Piece.Findings)
	}
	r.settle()
	if !r.bench.Figures.Withheld.None() || !(r.bench.Figures.Totals.WeightKg > 0) {
		t.Errorf("withheld %q, %v kg", r.bench.Figures.Withheld, r.bench.Figures.Totals.WeightKg)
	}
	if r.bench.UndoName() != "" {
		t.Errorf("opening left a step %q", r.bench.UndoName())
	}
	r.until("it is looked over", func() bool {
		return r.bench.Scan.Survey != nil && r.bench.Scan.Survey.Crossings && r.bench.Tasks.Survey.State == task.Done
	})
	if r.bench.Scan.Survey.Counts[mend.Hole] == 0 || len(r.bench.Scan.Survey.List) == 0 {
		t.Errorf("found %v", r.bench.Scan.Survey.Counts)
	}
}

// A scan that runs through itself is never called a solid: not while it is being mended, and not when it is left as it was read.
func TestAScanThatCrossesItselfIsNoSolid(t *testing.T) {
	r, queue := newHeld(t, bent())
	said := map[string]bool{}
	look := func(int) {
		text := r.top.facts.Text()
		state := text[strings.LastIndex(text, " · ")+len(" · "):]
		said[state] = said[state] || r.bench.Model.Piece.Mesh == r.bench.Model.Piece.Scan.Mesh
	}
	r.handOn(queue, works, look)
	if said["one solid"] || !said["being mended"] || !strings.HasSuffix(r.top.facts.Text(), " · one solid") {
		t.Errorf("of the scan the top line says %v, of the piece %q", said, r.top.facts.Text())
	}
	r.mendSet("leave", func(m *mend.Settings) { m.Off = true })
	r.handOn(queue, works, look)
	if said["one solid"] || !strings.HasSuffix(r.top.facts.Text(), " · runs through itself") || !strings.Contains(r.bench.Figures.Withheld.String(), "runs through itself") {
		t.Errorf("left as it was read the top line says %v and %q, the figures %q", said, r.top.facts.Text(), r.bench.Figures.Withheld)
	}
}

// A clean piece stays the very piece that it is, with its hollow and its picture.
func TestACleanPieceIsNotTouched(t *testing.T) {
	raw := ring()
	r := newRig(t, raw)
	r.mendedOnce()
	serial := r.look.Serial()
	r.mendSet("debris", func(m *mend.Settings) { m.DebrisShare = 0.02 })
	r.mendedOnce()
	r.settle()
	if r.bench.Model.Piece != raw || r.bench.Model.Grid == nil {
		t.Error("the piece was built again")
	}
	if r.look.Serial() != serial {
		t.Errorf("%d new pictures of the same piece", r.look.Serial()-serial)
	}
	if strings.Count(r.log.String(), "what=piece") < 2 {
		t.Error("the mending is not in the trace")
	}
}

func TestScaleAloneMendsNothingAnew(t *testing.T) {
	r := newRig(t, bowl())
	r.mendedOnce()
	was := r.bench.Model
	r.Do("scale", func(s job.Settings) job.Settings { s.Scale = 3; return s })
	r.Rest()
	if r.bench.BeingMended() {
		t.Error("mended anew for the scale")
	}
	r.settle()
	if r.bench.Model.Piece != was.Piece {
		t.Error("another piece for another scale")
	}
	r.mendSet("smoothing", func(m *mend.Settings) { m.Smooth = 0.5 })
	r.mendedOnce()
	smooth := r.bench.Model
	if smooth.Piece == was.Piece {
		t.Error("nothing was smoothed")
	}
	r.Do("scale", func(s job.Settings) job.Settings { s.Scale = 2; return s })
	r.Rest()
	if !r.bench.BeingMended() {
		t.Error("half a millimetre is another depth at another scale, but nothing is mended")
	}
	r.mendedOnce()
}

func TestSawingUndoAndRedo(t *testing.T) {
	r := newRig(t, bowl())
	r.mendedOnce()
	r.settle()
	whole, weight := r.bench.Model.Piece, r.bench.Figures.Totals.WeightKg
	high := r.bench.Standing.Height()
	r.mendSet("sawn at", func(m *mend.Settings) { *m = mend.Settings{Saw: r.bench.Model.Piece.SawBase(r.bench.Settings(), 20)} })
	if saw, ok := r.bench.ToSaw(); !ok || !saw.On {
		t.Error("it is not shown where the saw will go")
	}
	if !r.bench.Stale() {
		t.Error("figures of the piece before pass for those of the sawn one")
	}
	r.mendedOnce()
	r.settle()
	sawn := r.bench.Model.Piece
	if got := high - r.bench.Standing.Height(); math.Abs(got-20) > 0.3 || !sawn.Solid() || r.bench.Figures.Totals.WeightKg >= weight {
		t.Errorf("sawn off %v mm, solid %v, %v kg of %v", got, sawn.Solid(), r.bench.Figures.Totals.WeightKg, weight)
	}
	r.run("undo")
	if r.bench.Model.Piece != whole || r.bench.BeingMended() {
		t.Error("undo does not bring the piece back at once")
	}
	r.drain()
	r.run("redo")
	if r.bench.Model.Piece != sawn || r.bench.BeingMended() || r.bench.Model.Grid == nil {
		t.Error("redo does not bring the sawn piece back at once, with its hollow")
	}
	r.settle()
}

// A mending that is called off leaves the piece as it was, and waits for the maker's word.
func TestMendingCalledOff(t *testing.T) {
	r := newRig(t, bowl())
	r.mendedOnce()
	r.settle()
	was := r.bench.Model.Piece
	r.mendSet("smoothing", func(m *mend.Settings) { m.Smooth = 0.7 })
	r.run("cancel")
	if r.bench.BeingMended() || r.bench.Model.Piece != was || r.bench.MendFault() == "" {
		t.Fatalf("busy %v, fault %q", r.bench.BeingMended(), r.bench.MendFault())
	}
	r.wall(12)
	r.Rest()
	r.settle()
	if r.bench.BeingMended() || r.bench.Model.Piece != was || r.bench.Figures.For.Wall != 12 {
		t.Error("it does not stay called off")
	}
	r.run("mend")
	r.mendedOnce()
	if r.bench.Model.Piece == was || r.bench.MendFault() != "" {
		t.Error("asked again, it is not mended")
	}
}

func TestGoingToAFinding(t *testing.T) {
	r := newRig(t, bowl())
	r.mendedOnce()
	r.settle()
	r.until("it is looked over", func() bool { return r.bench.Scan.Survey != nil && r.bench.Scan.Survey.Crossings })
	r.Go(1)
	r.settle()
	f := r.bench.Scan.Survey.List[0]
	at := r.look.Place.Placement.Apply(f.At)
	out := r.bench.Scan.Survey.Loops[0].Normal
	c := r.look.Camera.Camera
	to := geom.Vec{X: math.Cos(c.Elevation) * math.Cos(c.Azimuth), Y: math.Cos(c.Elevation) * math.Sin(c.Azimuth), Z: math.Sin(c.Elevation)}
	if got := to.Dot(r.look.Place.Placement.Turn.Apply(out)); got < 0.999 {
		t.Errorf("the hole faces the viewer by a cosine of %v", got)
	}
	// What lies in the middle of the picture is the place.
	r.bench.Selected.Picking.What = "measure"
	mid := r.look.Size()
	r.clickLook(fyne.NewPos(mid.Width/2, mid.Height/2))
	r.until("the click is answered", func() bool { return r.look.Pick.Serial == 0 })
	hit := r.look.Place.Placement.Apply(r.bench.Selected.Picking.Points[0])
	if d := hit.Sub(at); d.Sub(to.Scale(d.Dot(to))).Len() > 1 {
		t.Errorf("in the middle lies %v, the place is %v", hit, at)
	}
	if r.cardState().Mend.Finding != 1 {
		t.Error("the card does not know where the view is")
	}
}

func TestStandingOnThreePoints(t *testing.T) {
	r := newRig(t, job.NewPiece("box", solidtest.Box(120, 80, 100), mesh.Raw{}))
	r.run("floor")
	for _, p := range []geom.Vec{{X: 0, Y: 0, Z: 0}, {X: 0, Y: 80, Z: 0}, {X: 0, Y: 0, Z: 100}} {
		r.gather(p, 3)
	}
	r.standOnThree()
	r.settle()
	if got := r.bench.Figures.Size.Z; math.Abs(got-120) > 0.1 {
		t.Errorf("on its side the box is %v high, want 120", got)
	}
	if low := r.bench.Standing.Placed.Placement.Apply(geom.Vec{}).Z; math.Abs(low) > 0.01 {
		t.Errorf("the picked points stand %v above the floor", low)
	}
	was := r.bench.Settings().Turn
	for _, p := range []geom.Vec{{}, {X: 50}, {X: 100, Y: 0.1}} {
		r.gather(p, 3)
	}
	r.standOnThree()
	if r.bench.Settings().Turn != was || !strings.Contains(r.margin.words.Text(), "line") {
		t.Error("three points in a line turned the piece")
	}
}

func TestSawingAtAPickedPlace(t *testing.T) {
	r := newRig(t, job.NewPiece("box", solidtest.Box(120, 80, 100), mesh.Raw{}))
	r.mendedOnce()
	r.run("saw")
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(r.look.Size().Width/2, r.look.Size().Height*0.6)}}
	r.look.MouseDown(at)
	r.look.MouseUp(at)
	r.until("the saw is set", func() bool { return r.bench.Settings().Mend.Saw.On })
	height := r.bench.Model.Piece.SawnAt(r.bench.Settings())
	r.mendedOnce()
	r.settle()
	if got := r.bench.Figures.Size.Z; height < 5 || math.Abs(100-height-got) > 0.05 {
		t.Errorf("sawn at %v, it is %v high", height, got)
	}
}

// Work is kept while the hand rests, offered at the next start and gone after a clean end.
func TestUnsavedWorkSurvives(t *testing.T) {
	r := newRig(t, ring())
	dir := filepath.Join(t.TempDir(), "state")
	r.o.State, r.kept.path = dir, keptPath(dir, os.Getpid())
	r.refresh()
	if r.tasks.keep.Busy() {
		t.Error("nothing has been done, but it is kept")
	}
	was := filepath.Join(t.TempDir(), "ring.grainstack")
	r.bench.Path = was
	r.wall(31)
	r.Rest()
	r.until("the work is kept", func() bool { _, err := os.Stat(r.kept.path); return err == nil && !r.tasks.keep.Busy() })
	if got := leftBehind(dir); len(got) != 0 {
		t.Errorf("work of a running program is offered: %v", got)
	}
	const gone = 1 << 30 // no process has this number
	left := keptPath(dir, gone)
	if err := os.Rename(r.kept.path, left); err != nil {
		t.Fatal(err)
	}
	r.run("undo")
	r.Rest()
	r.offer()
	if r.win.Canvas().Overlays().Top() == nil {
		t.Fatal("nothing is offered")
	}
	r.pages[len(r.pages)-1].Hide()
	r.tasks.keep.Drop()
	r.tasks.keep.Wait()
	r.takeUp(left)
	r.until("it is taken up", func() bool { return r.bench.Settings().Wall == 31 })
	if r.bench.Path != was || len(r.app.Preferences().StringList(prefRecent)) != 0 {
		t.Errorf("the keeping place passes for the maker's own file: %q", r.bench.Path)
	}
	if _, err := os.Stat(r.kept.path); err != nil || !r.kept.anew {
		t.Error("work that was taken up is not kept any more")
	}
	job1 := filepath.Join(t.TempDir(), "hare.grainstack")
	r.saveTo(job1)
	r.until("it is saved", func() bool { return r.bench.Path == job1 })
	if _, err := os.Stat(r.kept.path); err == nil {
		t.Error("saved work is still kept as unsaved")
	}
	if r.bench.Dirty() || r.bench.Path != job1 {
		t.Errorf("dirty %v, path %q", r.bench.Dirty(), r.bench.Path)
	}
}
