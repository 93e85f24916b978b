package app

import (
	"fmt"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"grainstack/app/route"
	"grainstack/app/snag"
	"grainstack/app/task"
	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/wayout"

	"fyne.io/fyne/v2"
)

// hareRig is a window on the demo piece, thinned and solid, once cutters and panels have been followed.
func hareRig(t *testing.T) *rig {
	r := newRig(t, job.NewPiece("hare", sample.Hare(20_000), mesh.Raw{}))
	r.set("solid", func(s *job.Settings) { s.Wall = 0 })
	r.until("cutters and panels are followed", func() bool {
		v, now := r.bench.Shop.Newest()
		return r.bench.Reached() != nil && now && v.Improved && r.bench.Tasks.Shop.State != task.Working
	})
	return r
}

// group is the number of the first finding of a kind, and the finding.
func (r *rig) group(k finding.Kind) (int, finding.Finding) {
	r.t.Helper()
	open, _ := r.bench.Snags()
	i := slices.IndexFunc(open, func(f finding.Finding) bool { return f.Kind == k })
	if i < 0 {
		r.t.Fatalf("nothing of the kind %v is found: %q", k, finding.Words{}.Texts(open))
	}
	return i, open[i]
}

// flown waits until the view has gone to the picked place, and gives what is seen.
func (r *rig) flown() (look.Camera, *image.RGBA) {
	r.t.Helper()
	r.until("the view is at the place", func() bool { return r.bench.Tasks.Sight.State == task.Done && !r.look.Busy() && len(r.queue) == 0 })
	img := *r.look.Frame()
	img.Pix = slices.Clone(img.Pix)
	return r.look.Camera.Camera, &img
}

// TestSnags walks through what needs a look of the demo piece: the list with its count, two undercuts of one layer that are seen
// in two pictures, each ringed alone, a way out that is kept as a trial and one that is taken, and a place that is set aside.
func TestSnags(t *testing.T) {
	r := hareRig(t)
	open, _ := r.bench.Snags()
	r.press(fyne.KeyS)
	if r.bench.Screen.Sheet != snagsName {
		t.Fatalf("S brings %q to the front", r.bench.Screen.Sheet)
	}
	if words := r.folder.index.Words(); !slices.Contains(words, fmt.Sprint("Snags ", len(open))) {
		t.Errorf("%d need a look, the captions are %q", len(open), words)
	}
	for i := 1; i < len(open); i++ {
		if open[i].Kind < open[i-1].Kind {
			t.Errorf("%v comes after %v", open[i].Kind, open[i-1].Kind)
		}
	}
	g, f := r.group(finding.Undercut)
	a, b := -1, -1
	for i := range f.Places {
		for k := range i {
			if f.Places[i].Layer == f.Places[k].Layer && a < 0 {
				a, b = k, i
			}
		}
	}
	if a < 0 {
		t.Fatalf("no layer has two undercuts: %+v", f.Places)
	}
	r.pickSnag(g, a)
	camera, first := r.flown()
	if r.bench.Layer() != f.Places[a].Layer || !r.plan.Whole.Visible() {
		t.Errorf("layer %d is picked, want %d; its plan is shown %v", r.bench.Layer(), f.Places[a].Layer, r.plan.Whole.Visible())
	}
	r.pickSnag(g, b)
	other, second := r.flown()
	if camera == other || slices.Equal(first.Pix, second.Pix) {
		t.Error("two undercuts of a layer are shown by one picture")
	}
	if f, p, ok := r.bench.SnagPlace(); !ok || f.Kind != finding.Undercut || p.At != f.Places[b].At {
		t.Errorf("picked is %v, %+v", f.Kind, p)
	}
	r.until("ways out are known", func() bool { _, sought := r.bench.Ways(); return sought })
	r.until("the list shows them", func() bool { return len(r.says().Groups) > g && len(r.says().Groups[g].Detail.Ways) > 0 })
	d := r.says().Groups[g].Detail
	if !strings.HasPrefix(d.Where, "Layer ") || !strings.Contains(d.Where, "panel") {
		t.Errorf("it lies at %q", d.Where)
	}
	r.until("they are drawn", func() bool {
		return !slices.ContainsFunc(r.says().Groups[g].Detail.Ways, func(w snag.Way) bool { return w.Picture == nil && !w.ByHand })
	})
	i := slices.IndexFunc(r.snagger.ways, func(o wayout.Way) bool { return !o.ByHand() })
	way, was := r.snagger.ways[i], r.bench.Settings()
	r.keepWay(i)
	if all := r.bench.Trials(); len(all) != 1 || all[0].Settings != way.Settings || r.bench.Settings() != was {
		t.Errorf("kept %d trials, the bench has changed %v", len(all), r.bench.Settings() != was)
	}
	r.takeWay(i)
	if r.bench.Settings() != way.Settings || r.bench.SnagCut() != 0 && way.Settings.Stand() != was.Stand() {
		t.Error("the way out was not taken")
	}
	r.run("undo")
	r.run("undo")
	if r.bench.Settings() != was || len(r.bench.Trials()) != 0 {
		t.Error("undo does not lead back")
	}
}

// TestSetAside: a place that is set aside needs no look any more, is kept with the job under its note, and comes back by undo.
func TestSetAside(t *testing.T) {
	r := hareRig(t)
	g, f := r.group(finding.Undercut)
	r.pickSnag(g, 1)
	r.snagger.setAside("with the bent gouge")
	if _, now := r.group(finding.Undercut); len(now.Places) != len(f.Places)-1 || slices.Contains(now.Places, f.Places[1]) {
		t.Errorf("%d places, after one of %d was set aside", len(now.Places), len(f.Places))
	}
	if all := r.bench.Job().Asides; len(all) != 1 || all[0].Note != "with the bent gouge" {
		t.Errorf("the job keeps %+v", all)
	}
	if s := r.says(); len(s.Aside) != 1 || s.Aside[0].Note != "with the bent gouge" {
		t.Errorf("the list has set aside %+v", s.Aside)
	}
	if r.bench.Selected.Snag.On {
		t.Error("it is still picked")
	}
	r.run("undo")
	if _, now := r.group(finding.Undercut); len(now.Places) != len(f.Places) || len(r.bench.Asides()) != 0 {
		t.Error("undo does not bring it back")
	}
	r.run("redo")
	r.lookAgain(0)
	if len(r.bench.Asides()) != 0 {
		t.Error("it is not looked at again")
	}
}

// TestSnagKeys: the keys go from place to place and round, Escape leaves the picked one and with it the ring.
func TestSnagKeys(t *testing.T) {
	r := hareRig(t)
	n := len(r.stops())
	var first finding.Key
	for i := range n {
		r.press(fyne.KeyF3)
		if !r.bench.Selected.Snag.On || r.bench.Screen.Sheet != snagsName {
			t.Fatalf("F3 picks nothing at step %d", i+1)
		}
		if i == 0 {
			first = r.bench.Selected.Snag.Key
			if r.win.Canvas().Focused() != fyne.Focusable(r.plan.Picture) || !r.plan.Whole.Visible() {
				t.Errorf("the keys go to %T, the plan is seen %v", r.win.Canvas().Focused(), r.plan.Whole.Visible())
			}
		} else if r.bench.Selected.Snag.Key == first {
			t.Fatalf("round after %d of %d steps", i, n)
		}
	}
	r.press(fyne.KeyF3)
	if r.bench.Selected.Snag.Key != first {
		t.Error("after the last place the first does not follow")
	}
	r.press(fyne.KeyBackspace)
	r.press(fyne.KeyF3)
	if r.bench.Selected.Snag.Key != first {
		t.Error("back and on lead elsewhere")
	}
	r.press(fyne.KeyEscape)
	if r.bench.Selected.Snag.On {
		t.Error("Escape leaves nothing")
	}
}

// TestSizeIsAsked: a scan of 4 mm whose file names no unit is asked about on the piece and by the line of the job; what needs a look
// begins with its size, and a click there takes another unit, which settles it and is undone.
func TestSizeIsAsked(t *testing.T) {
	p := job.NewPiece("cow", solidtest.Box(3, 2, 4), mesh.Raw{})
	p.File = "/cow.off"
	r := newRig(t, p)
	r.until("its size is in doubt", func() bool { return route.Doubts(r.bench) != "" && len(r.starter.lies) == 1 })
	if s := route.Of(r.bench)[route.Size]; s.Mark != route.InDoubt {
		t.Errorf("the line of the job says %+v", s)
	}
	r.router.leadTo(route.Size)
	if len(r.win.Canvas().Overlays().List()) != 1 {
		t.Error("the line of the job does not ask")
	}
	r.win.Canvas().Overlays().Top().Hide()
	open, _ := r.bench.Snags()
	if len(open) == 0 || open[0].Kind != finding.TooLow {
		t.Fatalf("what needs a look begins otherwise: %q", finding.Words{}.Texts(open))
	}
	r.pickSnag(0, snag.Whole)
	r.until("the list shows its units", func() bool { return len(r.says().Groups) > 0 && r.says().Groups[0].Detail != nil })
	ways := r.says().Groups[0].Detail.Ways
	if len(ways) != 3 || ways[0].Text != "The file is in centimetres: 40 mm high" || ways[2].Text != "The file is in metres: 4000 mm high" {
		t.Fatalf("its units are %+v", ways)
	}
	r.takeWay(0)
	if r.bench.Settings().Scale != 10 || route.Doubts(r.bench) != "" {
		t.Errorf("taken, the scale is %v, in doubt %q", r.bench.Settings().Scale, route.Doubts(r.bench))
	}
	r.until("it is asked no more", func() bool { return len(r.starter.lies) == 0 })
	if s := route.Of(r.bench)[route.Size]; s.Mark != route.Settled {
		t.Errorf("the line of the job says %+v", s)
	}
}

// TestWhatAWayOutMakesWorse: what is told of a way out before it is taken, once cutters and panels were followed for it, is what the
// bench finds once it is taken.
func TestWhatAWayOutMakesWorse(t *testing.T) {
	r := hareRig(t)
	r.press(fyne.KeyS)
	g, _ := r.group(finding.Undercut)
	r.pickSnag(g, 0)
	r.until("a way out is followed", func() bool {
		for _, o := range r.snagger.ways {
			if _, _, followed := r.bench.Worse(o.Settings); followed && !o.ByHand() {
				return true
			}
		}
		return false
	})
	way, said := wayout.Way{}, snag.Way{}
	for i, o := range r.snagger.ways {
		if _, _, followed := r.bench.Worse(o.Settings); followed && !o.ByHand() && way.Settings == (job.Settings{}) {
			way, said = o, r.says().Groups[g].Detail.Ways[i]
		}
	}
	if strings.Contains(said.Price, "not followed") {
		t.Errorf("it is followed, and told as %q", said.Price)
	}
	was, _ := r.bench.Snags()
	told, _, _ := r.bench.Worse(way.Settings)
	hours, panels := r.bench.Reached().RouterMin(), r.bench.Shop.Last.Panels()
	way = r.bench.Followed(way)
	r.carver.take(way)
	r.until("it is followed on the bench", func() bool {
		v, now := r.bench.Shop.Newest()
		return r.bench.Reached() != nil && now && v.Improved && r.bench.Tasks.Shop.State != task.Working
	})
	is, _ := r.bench.Snags()
	words := func(all []finding.Worsening) (out []string) {
		for _, c := range all {
			out = append(out, finding.Words{}.Worsened(c))
		}
		return out
	}
	if got, want := words(told), words(finding.Worse(was, is)); !slices.Equal(got, want) {
		t.Errorf("told is %q, found is %q", got, want)
	}
	if by := r.bench.Reached().RouterMin() - hours; math.Abs(by-way.RouterMin) > 1e-6*hours || r.bench.Shop.Last.Panels()-panels != way.Panels {
		t.Errorf("it takes %.1f min more and %d panels, told were %.1f and %d", by, r.bench.Shop.Last.Panels()-panels, way.RouterMin, way.Panels)
	}
}

// TestKeysGoOnToWaysWithoutALayer: of a place on no layer there is no plan that could have the keys; Return leads to its ways out
// all the same, wherever the keys were.
func TestKeysGoOnToWaysWithoutALayer(t *testing.T) {
	p := job.NewPiece("scan", solidtest.Torus(2, 1.2, 60, 30), mesh.Raw{})
	p.File = "scan.stl" // so that its unit is a guess
	r := newRig(t, p)
	at, _ := r.group(finding.TooLow)
	r.win.Canvas().Focus(r.top.buttons[1].(fyne.Focusable))
	r.snagger.pickSnag(at, snag.Whole)
	r.until("its ways out are listed", func() bool { return len(r.snagger.ways) > 0 })
	if f := r.win.Canvas().Focused(); f != nil {
		t.Fatalf("%T keeps the keys", f)
	}
	r.press(fyne.KeyReturn)
	if r.win.Canvas().Focused() == nil || r.win.Canvas().Overlays().Top() != nil {
		t.Error("Return does not lead to the ways out")
	}
}

// TestViewGoesBackFromAPlace: once the piece is stood another way the view goes back to where it was before a place was picked, and
// the line above it says that it isn't known yet whether the place needs a look, or once it is known to need none, that it is whole,
// whichever sheet is in front. Escape leads back as well; what the hand has moved since stays.
func TestViewGoesBackFromAPlace(t *testing.T) {
	r := hareRig(t)
	before := r.look.Camera.Camera
	pick := func() look.Camera {
		g, _ := r.group(finding.Undercut)
		r.pickSnag(g, 0)
		c, _ := r.flown()
		if c == before {
			t.Fatal("the view goes nowhere")
		}
		return c
	}
	over := func() {
		r.run("sheet Layer")
		r.set("on its back", func(s *job.Settings) { s.Turn = s.Turn.Then(geom.TurnXYZ(180, 0, 0)) })
	}
	pick()
	r.run("sheet Layer")
	if got := r.look.Caption.Text(); !strings.Contains(got, "picked place") {
		t.Errorf("at the place the line above the piece says %q", got)
	}
	over()
	r.drain()
	if got := r.look.Camera.Camera; got != before {
		t.Errorf("stood another way the piece is seen from %+v, before the place was picked from %+v", got, before)
	}
	says := func(begin string) func() bool {
		return func() bool { return strings.HasPrefix(r.look.Caption.Text(), begin) }
	}
	if r.bench.SnagInDoubt() {
		r.until("the line above the piece says that it is in doubt", says("Whether the picked place"))
	}
	r.until("cutters and panels are followed", func() bool {
		_, now := r.bench.Shop.Newest()
		return !r.bench.Provisional() && r.bench.Reached() != nil && now && r.bench.Tasks.Shop.State != task.Working
	})
	if _, _, there := r.bench.Snag(); there {
		r.until("the line above the piece says that it is there", says("The picked place"))
	} else {
		r.until("the line above the piece is as without a place", says("Finished piece"))
	}
	r.run("undo")
	r.until("undercuts are known again", func() bool { return !r.bench.Provisional() && r.bench.Reached() != nil && len(r.queue) == 0 })
	pick()
	if r.press(fyne.KeyEscape); r.look.Camera.Camera != before {
		t.Errorf("Escape leaves the place, and the piece is seen from %+v", r.look.Camera.Camera)
	}
	pick()
	r.swing(0.4, 0)
	moved := r.look.Camera.Camera
	over()
	r.drain()
	if got := r.look.Camera.Camera; got != moved {
		t.Errorf("what the hand has turned goes to %+v by itself", got)
	}
}
