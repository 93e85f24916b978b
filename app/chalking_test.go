package app

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/app/session"
	"grainstack/slicing/chalk"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// stroke drags over the finished piece with the left button, from one share of the pane to another.
func (r *rig) stroke(x0, y0, x1, y1 float32) {
	r.t.Helper()
	size := r.look.Size()
	at := func(k float32) fyne.Position {
		return fyne.NewPos(size.Width*(x0+(x1-x0)*k), size.Height*(y0+(y1-y0)*k))
	}
	event := func(k float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: at(k)}}
	}
	r.look.MouseDown(event(0))
	const steps = 12
	for i := range steps {
		k := float32(i+1) / steps
		d := at(k).Subtract(at(k - 1.0/steps))
		r.look.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at(k)}, Dragged: fyne.NewDelta(d.X, d.Y)})
		if i%3 == 2 {
			r.until("the picture follows", func() bool { return !r.look.Drawing() && len(r.queue) == 0 })
		}
	}
	r.look.DragEnd()
	r.look.MouseUp(event(1))
	r.until("the stroke is whole", func() bool { return !r.look.Stroke.Down && !r.look.Drawing() && len(r.queue) == 0 })
}

// ball is a piece whose layers of 16 mm have a joint at its equator, which the middle of the pane shows.
func ball() *job.Piece {
	return job.NewPiece("ball", solidtest.Sphere(80, 40_000), mesh.Raw{})
}

func TestChalkKeepsAPlaceWhole(t *testing.T) {
	r := newRig(t, ball())
	view, turn := r.look.Camera.Camera, r.bench.Settings().Turn
	r.run("front")
	r.settle()
	r.run("chalk")
	if !r.brushing() || !r.cards.chalk.Open() {
		t.Fatal("the chalk was not taken up")
	}
	r.Look(func(v *session.View) { v.Brush.Radius = 5 })
	view = r.look.Camera.Camera
	r.stroke(0.42, 0.5, 0.58, 0.5)
	if r.look.Camera.Camera != view || r.bench.Settings().Turn != turn {
		t.Error("the stroke turned view or piece")
	}
	if r.bench.UndoName() != "chalk: keep whole" || !r.bench.Settings().Chalk.Has(chalk.KeepWhole) {
		t.Fatalf("undo is %q, the marks are %+v", r.bench.UndoName(), r.bench.Settings().Chalk)
	}
	r.settle()
	if k := r.bench.Figures.Kept; len(k) != 1 || len(k[0].Crossings) != 1 || k[0].High-k[0].Low > 10.01 || k[0].High-k[0].Low < 8 {
		t.Fatalf("kept %+v", k)
	}
	if !r.cautioned("stay whole") || r.bench.Figures.BetterJoint.Layers == 0 {
		t.Fatalf("no caution or no way out: %+v, %+v", r.bench.Figures.Cautions, r.bench.Figures.BetterJoint)
	}
	offered := 0
	for name, o := range r.cards.chalk.Places() {
		if strings.HasPrefix(name, "First joint") && strings.HasSuffix(name, "clears it") {
			offered++
			o.(fyne.Tappable).Tapped(nil)
		}
	}
	if offered != 1 || r.bench.Settings().FirstJoint == 0 {
		t.Fatalf("%d offers, the first joint is %v", offered, r.bench.Settings().FirstJoint)
	}
	r.settle()
	if r.cautioned("stay whole") || r.bench.Figures.BetterJoint.Layers != 0 {
		t.Errorf("with the offered joint: %+v", r.bench.Figures.Cautions)
	}
	r.run("undo")
	r.settle()
	if !r.cautioned("stay whole") {
		t.Error("undone, the caution is not back")
	}
	r.run("undo")
	r.settle()
	if r.bench.Settings().Chalk != nil || r.cautioned("stay whole") || r.bench.UndoName() != "" {
		t.Errorf("the stroke was not one step: undo is %q", r.bench.UndoName())
	}
	r.run("redo")
	r.settle()
	serial := r.look.Serial()
	r.run("cancel")
	r.drain()
	if r.look.Serial() != serial {
		t.Error("the mark went with the chalk, though its card is open")
	}
	r.cards.chalk.Toggle()
	r.drain()
	if r.look.Serial() == serial {
		t.Error("the card is folded, and the mark stays on the picture")
	}
	if r.brushing() {
		t.Error("Escape did not put the chalk down")
	}
}

// cautioned reports whether a caution contains words.
func (r *rig) cautioned(words string) bool {
	for _, c := range r.bench.Figures.Cautions {
		if strings.Contains(finding.Words{}.Text(c), words) {
			return true
		}
	}
	return false
}

// A stroke outlives the hollow that becomes known meanwhile, which brings another model of the same piece.
func TestAStrokeOutlivesAnotherModel(t *testing.T) {
	r := newRig(t, ball())
	r.run("front")
	r.settle()
	r.run("chalk")
	size := r.look.Size()
	r.look.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(size.Width/2, size.Height/2)}, Dragged: fyne.NewDelta(9, 0)})
	same := *r.bench.Model
	r.bench.Model = &same
	r.look.DragEnd()
	r.until("the stroke is whole", func() bool { return !r.look.Stroke.Down })
	if r.bench.Settings().Chalk.Empty() {
		t.Error("the stroke is lost")
	}
}

// A drag that begins beside the piece turns the view; one that runs over its edge breaks off there.
func TestChalkBesideThePiece(t *testing.T) {
	r := newRig(t, ball())
	r.run("front")
	r.settle()
	r.run("chalk")
	view := r.look.Camera.Camera
	r.stroke(0.02, 0.05, 0.1, 0.2)
	if r.look.Camera.Camera == view || r.bench.Settings().Chalk != nil {
		t.Errorf("a drag beside the piece: camera moved %v, marks %+v", r.look.Camera.Camera != view, r.bench.Settings().Chalk)
	}
	r.run("front")
	r.settle()
	r.stroke(0.5, 0.5, 0.5, 0.01)
	for _, s := range r.bench.Settings().Chalk.Strokes() {
		for _, p := range s.Path {
			if l := p.Len(); l < 79 || l > 81 {
				t.Errorf("a place at %v lies off the piece", p)
			}
		}
	}
	if len(r.bench.Settings().Chalk.Strokes()) == 0 {
		t.Error("nothing was marked")
	}
}

// Rubbing out and wiping, and what is saved comes back.
func TestChalkRubbedOutAndSaved(t *testing.T) {
	r := newRig(t, ball())
	r.run("front")
	r.settle()
	r.run("chalk")
	r.Look(func(v *session.View) { v.Brush.Kind = chalk.Unmarked })
	r.stroke(0.45, 0.5, 0.55, 0.5)
	if r.bench.Settings().Chalk != nil || r.bench.UndoName() != "" {
		t.Error("rubbing out nothing is a step")
	}
	r.Look(func(v *session.View) { v.Brush.Kind = chalk.SeenSide })
	r.stroke(0.45, 0.5, 0.55, 0.5)
	count := func() (n int) {
		for _, k := range r.bench.Settings().Chalk.On(r.bench.Model.Piece.Mesh) {
			if k != chalk.Unmarked {
				n++
			}
		}
		return n
	}
	seen := count()
	r.Look(func(v *session.View) { v.Brush.Kind = chalk.Unmarked })
	r.stroke(0.5, 0.48, 0.5, 0.52)
	if left := count(); seen == 0 || left >= seen || left == 0 {
		t.Errorf("%d facets were marked, %d after rubbing some out", seen, left)
	}
	r.settle()
	at := filepath.Join(t.TempDir(), "ball.grainstack")
	j := r.bench.Job()
	j.Piece = job.Demo() // it needs no file of its own
	if err := j.Save(at, false); err != nil {
		t.Fatal(err)
	}
	was := r.bench.Settings().Chalk
	r.openNow(at) // without asking about what is unsaved
	r.until("the job is open", func() bool { return r.bench.Model.Piece.Name != "ball" })
	if !r.bench.Settings().Chalk.Equal(was) || r.bench.Dirty() {
		t.Error("opened again the marks are others, or count as unsaved")
	}
}
