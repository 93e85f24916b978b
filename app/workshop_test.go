package app

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/app/edit"
	"grainstack/app/paper"
	"grainstack/app/task"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// laidRig is a window on a small frustum with its parts laid out and the panel sheet in front.
func laidRig(t *testing.T) *rig {
	t.Helper()
	r := newRig(t, job.NewPiece("frustum", solidtest.Frustum(60, 30, 64, 90), mesh.Raw{}))
	r.run("sheet Panels")
	r.laid("the first layout")
	return r
}

// laid waits for the workshop of the present settings and places, and for its sheet.
func (r *rig) laid(what string) *workshop.Workshop {
	r.t.Helper()
	r.until(what, func() bool {
		v, now := r.bench.Shop.Newest()
		return now && v.Improved && r.bench.Tasks.Shop.State != task.Working && !r.panels.Busy() && len(r.queue) == 0 && r.panels.Frame() != nil
	})
	v, _ := r.bench.Shop.Newest()
	return v
}

// TestTheMarginTellsHowFarTheWorkshopIs, in words and per cent.
func TestTheMarginTellsHowFarTheWorkshopIs(t *testing.T) {
	r := newRig(t, job.NewPiece("frustum", solidtest.Frustum(60, 30, 64, 90), mesh.Raw{}))
	r.run("sheet Panels")
	r.until("a word in the margin", func() bool { return r.margin.working.Text() == "cutting the parts out … 0 %" })
	r.laid("the layout")
	r.until("an empty margin", func() bool { return r.margin.working.Text() == "" }) // the cutters may be followed longer than parts are laid
}

// TestAPartIsPutByKeyAndUndone: taken by key, moved, let go, undone and done again; the figures are never worked out anew.
func TestAPartIsPutByKeyAndUndone(t *testing.T) {
	r := laidRig(t)
	first := r.laid("the layout")
	figures := r.bench.Figures
	r.pickPart(panel.ID{Layer: 1})
	number, was, _ := first.Layout.Find(panel.ID{Layer: 1})
	free := freePlace(t, first, number, was)
	r.keyPanel(fyne.KeyReturn)
	if !r.panels.Hand.Holds() || r.panels.Hand.Part != was.Part {
		t.Fatalf("Enter took %+v into the hand", r.panels.Hand.Hold)
	}
	r.panels.Hand.Hold = r.panels.Hand.To(free.At)
	r.keyPanel(fyne.KeyReturn)
	moved := r.laid("the layout with it")
	if _, at, _ := moved.Layout.Find(was.Part); at.At != free.At {
		t.Errorf("it lies at %v, want %v", at.At, free.At)
	}
	if len(r.bench.Places().Parts) != len(first.Parts) || !r.bench.Dirty() {
		t.Errorf("%d places are kept of %d parts; unsaved: %v", len(r.bench.Places().Parts), len(first.Parts), r.bench.Dirty())
	}
	r.run("undo")
	if _, at, _ := r.laid("undone").Layout.Find(was.Part); at != was {
		t.Errorf("undone, it lies at %v, want %v", at, was)
	}
	r.run("redo")
	if v := r.laid("done again"); v != moved {
		t.Error("done again, the layout was worked out again rather than remembered")
	}
	if r.bench.Figures != figures {
		t.Error("the figures were worked out anew")
	}
}

// freePlace is a place on a panel where a part may lie, at least 20 mm from where it does.
func freePlace(t *testing.T, v *workshop.Workshop, number int, was panel.Placed) panel.Placed {
	t.Helper()
	for y := 0.0; y < v.For.PanelY; y += 10 {
		for x := 0.0; x < v.For.PanelX; x += 10 {
			at := was
			at.At = geom.Vec2{X: x, Y: y}
			if ok, _ := v.Fits(number, at); ok && at.At.Sub(was.At).Len() > 20 {
				return at
			}
		}
	}
	t.Fatal("there is no free place")
	return was
}

// TestACollisionIsNamedAndRefused: over another part it is named in the margin, and let go there it is back where it was.
func TestACollisionIsNamedAndRefused(t *testing.T) {
	r := laidRig(t)
	v := r.laid("the layout")
	on := edit.PlacedOn(v, 1)
	if len(on) < 2 {
		t.Fatalf("%d parts lie on the first panel", len(on))
	}
	r.pickPart(on[0].Part)
	r.keyPanel(fyne.KeyReturn)
	onto, _ := v.Part(on[1].Part)
	mine, _ := v.Part(on[0].Part)
	middle := func(p *workshop.Part, at panel.Placed) geom.Vec2 {
		b := p.Shadow.Box()
		return at.Apply(b.Min.Add(b.Max).Scale(0.5))
	}
	r.nudge(middle(onto, on[1]).Sub(middle(mine, on[0])))
	r.until("the picture with it in the hand", func() bool { return !r.panels.Busy() && len(r.queue) == 0 })
	if words := r.margin.words.Text(); !strings.Contains(words, on[1].Part.String()) {
		t.Errorf("the margin says %q, and not what is in the way", words)
	}
	r.keyPanel(fyne.KeyReturn)
	if words := r.margin.words.Text(); !strings.HasSuffix(words, "It is back where it was.") || len(r.bench.Places().Parts) > 0 {
		t.Errorf("let go on another part: %q, %d places", words, len(r.bench.Places().Parts))
	}
}

// TestALockedPartStays when the rest is laid out anew.
func TestALockedPartStays(t *testing.T) {
	r := laidRig(t)
	v := r.laid("the layout")
	id := panel.ID{Layer: 2}
	number, was, _ := v.Layout.Find(id)
	free := freePlace(t, v, number, was)
	free.Locked = true
	p, err := v.Put(number, free)
	if err != nil {
		t.Fatal(err)
	}
	r.put("lock", p)
	r.laid("the layout with it")
	r.run("lay anew")
	v = r.laid("the layout anew")
	if n, at, _ := v.Layout.Find(id); n != number || at != free {
		t.Errorf("the locked part lies on panel %d at %v, want panel %d at %v", n, at, number, free)
	}
	if n := len(r.bench.Places().Parts); n != 1 {
		t.Errorf("laid out anew, %d parts are held by hand, want the locked one", n)
	}
}

// TestASplitIsMovedOnTheLayerSheet: the line is under the hand, moves with it, and is taken back.
func TestASplitIsMovedOnTheLayerSheet(t *testing.T) {
	r := laidRig(t)
	before := len(r.laid("the layout").Parts)
	r.pickPart(panel.ID{Layer: 3})
	r.run("split")
	if v := r.laid("the split layout"); len(v.Parts) != before+1 || r.bench.Screen.Sheet != "Layer" {
		t.Fatalf("split, there are %d parts, before %d; %q is in front", len(v.Parts), before, r.bench.Screen.Sheet)
	}
	r.until("the layer sheet", func() bool { return !r.sheet.Busy() && len(r.queue) == 0 && r.sheet.Now.Out.PerMM > 0 })
	was := r.bench.Places().SplitsOf(3)[0]
	grip := was.A.Add(was.B).Scale(0.5).Add(was.B.Sub(was.A).Scale(0.2))
	at := r.sheet.Now.Out.ToSheet(grip)
	place := fyne.NewPos(float32(at.X), float32(at.Y))
	if !r.takeLine(place) {
		t.Fatal("the joint line can't be taken into the hand")
	}
	r.carryLine(place.AddXY(12, 12))
	r.letLine(true)
	now := r.bench.Places().SplitsOf(3)[0]
	want := 12 / r.sheet.Now.Out.PerMM
	for _, d := range []geom.Vec2{now.A.Sub(was.A), now.B.Sub(was.B)} {
		if d.Sub(geom.Vec2{X: want, Y: -want}).Len() > 0.01 {
			t.Errorf("an end moved by %v, want %v to the right and down", d, want)
		}
	}
	r.run("unsplit")
	if v := r.laid("the whole layer again"); len(v.Parts) != before {
		t.Errorf("put together again there are %d parts, want %d", len(v.Parts), before)
	}
}

// TestALargerPanelIsAWayOut: a part that is too large is named, and the offered panel holds it.
func TestALargerPanelIsAWayOut(t *testing.T) {
	r := laidRig(t)
	r.Do("panel", func(s job.Settings) job.Settings { s.PanelX, s.PanelY = 130, 130; return s })
	v := r.laid("the layout on small panels")
	if len(v.Layout.TooLarge) == 0 || !r.tools.misfits.whole.Visible() {
		t.Fatalf("%d parts are too large; named: %v", len(v.Layout.TooLarge), r.tools.misfits.whole.Visible())
	}
	r.tools.misfits.do[0]()
	if v = r.laid("the layout on larger panels"); len(v.Layout.TooLarge) > 0 || r.tools.misfits.whole.Visible() {
		t.Errorf("on panels of %g × %g mm %d parts are too large", v.For.PanelX, v.For.PanelY, len(v.Layout.TooLarge))
	}
}

// TestFilesAreChosenAndWritten by the page; a folder that can't be made is said there.
func TestFilesAreChosenAndWritten(t *testing.T) {
	r := laidRig(t)
	r.laid("the layout")
	r.run("make")
	p := r.making.page
	for k, c := range p.kinds {
		c.SetChecked(k == "lists")
	}
	dir := filepath.Join(t.TempDir(), "out")
	p.folder.SetText(dir)
	if len(p.files) != 6 || p.fault != "" {
		t.Fatalf("%d files would be written, want 5 lists and the read-me; fault %q", len(p.files), p.fault)
	}
	r.until("their sizes", func() bool { return len(p.sizes) == 6 })
	sizes := p.sizes["lists/parts.csv"]
	painted := map[string]bool{}
	walk(r.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if w, ok := o.(*paper.Words); ok {
			painted[w.Text()] = true
		}
	})
	if last := p.list.rows[len(p.list.rows)-1]; !painted[last.words[2]] || painted["…"] {
		t.Errorf("the last line is %q, painted are %v", last.words, painted)
	}
	p.ask()
	r.until("they are written", func() bool { return !r.making.busy() && !r.tasks.make.Busy() && len(r.queue) == 0 })
	if info, err := os.Stat(filepath.Join(dir, "lists", "parts.csv")); err != nil || info.Size() != sizes {
		t.Errorf("the list of parts: %v, %v; %d bytes were announced", info, err, sizes)
	}
	if !strings.HasPrefix(p.said.Text, "Written: 6 files") {
		t.Errorf("the page says %q", p.said.Text)
	}
	p.kinds["lists"].SetChecked(false)
	p.kinds["book"].SetChecked(true)
	last := len(p.list.rows) - 1
	if before := p.list.rows[last]; len(p.plan.Kept) != 5 || before.group != "made before · stays" || before.words[1] != "5 files" || !strings.Contains(p.said.Text, "5 made there before stay") {
		t.Errorf("of what was made before the page says %q and %q", before, p.said.Text)
	}
	if p.list.shown.Select(last); len(p.list.rows) != last+1+5 || p.list.rows[last+1].words != [3]string{p.plan.Kept[0], "made before", "stays"} {
		t.Errorf("unfolded they are %q", p.list.rows)
	}
	file := filepath.Join(dir, "lists", "parts.csv")
	p.folder.SetText(filepath.Join(file, "below"))
	p.ask()
	r.until("it has failed", func() bool { return !r.making.busy() && !r.tasks.make.Busy() && len(r.queue) == 0 })
	if !strings.Contains(p.said.Text, "was changed") {
		t.Errorf("a folder below a file: the page says %q", p.said.Text)
	}
	p.folder.SetText("somewhere")
	if p.fault == "" || !p.write.Disabled() {
		t.Error("a path that begins nowhere can be written to")
	}
	p.dialog.Hide()
	if r.making.page != nil {
		t.Error("the page is gone, but it is kept")
	}
}

// TestAMovedPieceIsAskedFor: the job opens once its piece is pointed out, and not with another one.
func TestAMovedPieceIsAskedFor(t *testing.T) {
	r := newRig(t, ring())
	dir := t.TempDir()
	write := func(name string, m *mesh.Mesh) string {
		path := filepath.Join(dir, name)
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(mesh.WriteSTL(f, m), f.Close()); err != nil {
			t.Fatal(err)
		}
		return path
	}
	piece := write("piece.stl", solidtest.Frustum(60, 30, 64, 90))
	other := write("other.stl", solidtest.Frustum(60, 30, 64, 80))
	p, err := job.OpenPiece(context.Background(), piece)
	if err != nil {
		t.Fatal(err)
	}
	saved := filepath.Join(dir, "a.grainstack")
	places := job.Places{Tabs: []job.TabPlace{{Part: panel.ID{Layer: 1}, At: []geom.Vec2{{X: 60}}}}}
	if err := (jobfile.Job{Piece: p, Settings: r.bench.Settings(), Places: places}).Save(saved, false); err != nil {
		t.Fatal(err)
	}
	away := filepath.Join(t.TempDir(), "elsewhere.stl")
	if err := os.Rename(piece, away); err != nil {
		t.Fatal(err)
	}
	asked := func(changed string) {
		t.Helper()
		r.until("the question", func() bool {
			return strings.Contains(r.log.String(), "what=moved changed="+changed) && !r.tasks.open.Busy()
		})
		if r.bench.Model.Piece.Name != "ring" || len(r.pages) == 0 {
			t.Errorf("on the bench is %s", r.bench.Model.Piece.Name)
		}
	}
	r.openPiece(saved)
	asked("false")
	r.openMoved(saved, other)
	asked("true")
	r.openMoved(saved, away)
	r.until("the job is open", func() bool { return r.bench.Model.Piece.File == away })
	if r.bench.Path != saved || !slices.EqualFunc(r.bench.Places().Tabs, places.Tabs, func(a, b job.TabPlace) bool { return a.Part == b.Part && slices.Equal(a.At, b.At) }) {
		t.Errorf("the job is %q with the tabs %v", r.bench.Path, r.bench.Places().Tabs)
	}
}

// walk visits all that is painted of an object.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	visit(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, below := range o.Objects {
			walk(below, visit)
		}
	case fyne.Widget:
		for _, below := range test.WidgetRenderer(o).Objects() {
			walk(below, visit)
		}
	}
}
