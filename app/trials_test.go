package app

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mend"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// set changes the settings as one gesture.
func (r *rig) set(name string, change func(*job.Settings)) {
	r.Do(name, func(s job.Settings) job.Settings { change(&s); return s })
	r.Rest()
	r.settle()
}

// triedOut waits until nothing is left to be worked out of the trials.
func (r *rig) triedOut() {
	r.t.Helper()
	done := func() bool {
		_, more := work.NextTrial(r.bench)
		return !more && r.bench.AtRest() && r.bench.Tasks.Try.State != task.Working && len(r.queue) == 0
	}
	for !done() { // each takes a while
		came := r.bench.Tried.Version
		r.until("the next trial is worked out", func() bool { return r.bench.Tried.Version != came || done() })
	}
}

// keepThree keeps the ring as it is, with a thick wall in thin layers, and on edge.
func (r *rig) keepThree() {
	r.run("keep trial")
	r.set("wall", func(s *job.Settings) { s.Wall = 30; *s = s.WithLayer(r.o.Catalogue, 12) })
	r.run("keep trial")
	r.set("turn", func(s *job.Settings) { s.Turn = geom.TurnXYZ(90, 0, 0) })
	r.run("keep trial")
}

func TestTrialsAreKeptSetBesideTheBenchAndTakenBack(t *testing.T) {
	r := newRig(t, ring())
	first, weight := r.bench.Settings(), r.bench.Figures.Totals.WeightKg
	if r.strip.Object().Visible() {
		t.Error("the strip is there without a trial")
	}
	r.keepThree()
	if !r.strip.Object().Visible() || len(r.bench.Trials()) != 3 || r.bench.Trials()[2].Name != "Trial 3" {
		t.Fatalf("kept %v, visible %v", r.bench.Trials(), r.strip.Object().Visible())
	}
	r.run("keep trial")
	if len(r.bench.Trials()) != 3 || !strings.Contains(r.margin.words.Text(), "Trial 3") {
		t.Errorf("the same again: %d trials, %q", len(r.bench.Trials()), r.margin.words.Text())
	}
	r.triedOut()
	for _, one := range r.bench.Trials() {
		got, fault, ok := r.bench.Tried.Ticket(one.Settings)
		if !ok || fault != "" || !got.Deep || got.For != one.Settings || r.bench.Tried.Pictures[one.Settings].Img == nil {
			t.Errorf("%s: ticket %v of its own %v, deep %v, %q", one.Name, ok, got.For == one.Settings, got.Deep, fault)
		}
	}
	if a, b := r.bench.Tried.Pictures[r.bench.Trials()[0].Settings].Img, r.bench.Tried.Pictures[r.bench.Trials()[2].Settings].Img; slices.Equal(a.Pix, b.Pix) {
		t.Error("a ring lying and one on edge have the same picture")
	}
	bench, _ := r.bench.Tried.BenchTicket()
	line := r.trialLine(r.bench.Trials()[0], bench, true)
	if !strings.Contains(line.Differences, "layers") || !strings.Contains(line.Choices, "forward 90° → as it came") || !strings.Contains(line.Choices, "30 mm → 20 mm") {
		t.Errorf("the first trial differs by %q, %q", line.Differences, line.Choices)
	}
	steps := r.bench.UndoName()
	r.chooseTrial(0)
	if r.bench.UndoName() != steps || r.bench.Settings() == first {
		t.Error("choosing a trial changed the bench")
	}
	r.run("take trial")
	r.settle()
	if r.bench.Settings() != first || r.bench.Figures.Totals.WeightKg != weight || r.bench.UndoName() != "take back Trial 1" {
		t.Errorf("taken back: %v kg, want %v; undo %q", r.bench.Figures.Totals.WeightKg, weight, r.bench.UndoName())
	}
	r.run("undo")
	r.settle()
	if r.bench.Settings() != r.bench.Trials()[2].Settings {
		t.Error("one undo did not bring the bench back")
	}
}

func TestTheTicketIsSetAgainstTheChosenTrial(t *testing.T) {
	r := newRig(t, ring())
	r.run("keep trial")
	s := r.bench.Settings()
	kept, _, _ := r.bench.Tried.Ticket(s)
	r.set("wall", func(s *job.Settings) { s.Wall = 35 })
	now, ok := r.bench.Tried.BenchTicket()
	by := differences(now, kept, []trial.Quantity{trial.Weight}, unit.Metric)
	if !ok || !strings.HasPrefix(by, "+") {
		t.Errorf("a thicker wall weighs %q", by)
	}
	r.wall(36) // while the hand is still at it
	live, ok := r.bench.Tried.BenchTicket()
	if !ok || live.For.Wall != 36 || live.Reckoned[trial.Weight].Value <= now.Reckoned[trial.Weight].Value {
		t.Errorf("the difference does not follow the hand: %v, wall %v", ok, live.For.Wall)
	}
	r.chooseTrial(0) // lets go
	if r.bench.Tried.ChosenTrial() != -1 {
		t.Error("the trial is still chosen")
	}
}

func TestTrialsAreNamedRemovedAndBroughtBack(t *testing.T) {
	r := newRig(t, ring())
	r.keepThree()
	r.chooseTrial(1)
	all, err := trial.Rename(r.bench.Trials(), 1, "thick")
	if err != nil {
		t.Fatal(err)
	}
	r.keepTrials("rename Trial 2", all)
	if r.bench.Tried.ChosenTrial() != 1 || r.bench.Trials()[1].Name != "thick" {
		t.Errorf("renamed: %q, chosen %d", r.bench.Trials()[1].Name, r.bench.Tried.ChosenTrial())
	}
	settings, figures := r.bench.Settings(), r.bench.Figures
	r.run("remove trial")
	if len(r.bench.Trials()) != 2 || r.bench.Tried.ChosenTrial() != -1 {
		t.Errorf("%d trials, chosen %d", len(r.bench.Trials()), r.bench.Tried.ChosenTrial())
	}
	r.run("undo")
	if len(r.bench.Trials()) != 3 || r.bench.Trials()[1].Name != "thick" || r.bench.Settings() != settings || r.bench.Figures != figures {
		t.Errorf("undo: %d trials; figures worked out again %v", len(r.bench.Trials()), r.bench.Figures != figures)
	}
	r.run("rename trial") // none is chosen
	if r.win.Canvas().Overlays().Top() != nil {
		t.Error("no trial is renamed")
	}
	r.chooseTrial(1)
	r.run("rename trial")
	if r.win.Canvas().Overlays().Top() == nil {
		t.Fatal("no name is asked for")
	}
	field := r.win.Canvas().Focused().(*nameField)
	field.SetText("Trial 1")
	field.OnSubmitted("")
	if r.win.Canvas().Overlays().Top() == nil {
		t.Error("a name that another has was taken")
	}
	field.SetText("  very   thick ")
	field.OnSubmitted("")
	if r.bench.Trials()[1].Name != "very thick" || r.win.Canvas().Overlays().Top() != nil {
		t.Errorf("renamed to %q", r.bench.Trials()[1].Name)
	}
}

func TestTrialsSideBySide(t *testing.T) {
	r := newRig(t, ring())
	r.run("side by side")
	if r.bench.Screen.Comparing {
		t.Fatal("one stack is set beside none")
	}
	r.keepThree()
	if got := len(view.Columns(r.bench)); got != 3 {
		t.Errorf("%d columns: the bench is Trial 3", got)
	}
	r.set("wall", func(s *job.Settings) { s.Wall = 12 })
	if got := view.Columns(r.bench); len(got) != 4 || got[0].Name != "On the bench" {
		t.Errorf("%d columns", len(got))
	}
	r.run("side by side")
	r.until("they are drawn", func() bool {
		return r.comparing.Frame() != nil && !r.comparing.Busy() && len(r.queue) == 0
	})
	if !r.comparing.Whole.Visible() || r.panes.Visible() || len(r.comparing.Now.Out.Pictures) != 4 {
		t.Errorf("open %v, %d pictures", r.comparing.Whole.Visible(), len(r.comparing.Now.Out.Pictures))
	}
	before, camera := slices.Clone(r.comparing.Frame().Pix), r.look.Camera.Camera
	for range 5 {
		r.comparing.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(12, 4)})
	}
	r.comparing.DragEnd()
	r.until("they are drawn again", func() bool { return !r.comparing.Busy() && len(r.queue) == 0 })
	width := r.comparing.Frame().Rect.Dx()
	for i, b := range r.comparing.Now.Out.Pictures {
		changed := 0
		for y := int(b.Min.Y); y < int(b.Max.Y); y++ {
			for x := int(b.Min.X); x < int(b.Max.X); x++ {
				changed += count(before[4*(y*width+x)] != r.comparing.Frame().Pix[4*(y*width+x)])
			}
		}
		if changed < 300 {
			t.Errorf("one view was turned, but picture %d changed in %d pixels only", i, changed)
		}
	}
	if r.look.Camera.Camera == camera {
		t.Error("the view stayed")
	}
	mid := r.comparing.Now.Out.Pictures[1]
	r.comparing.Clicked(fyne.NewPos(float32(mid.Min.X+5), float32(mid.Min.Y+5)))
	if r.bench.Tried.ChosenTrial() != 0 {
		t.Errorf("a click on the second column chose %d", r.bench.Tried.ChosenTrial())
	}
	r.comparing.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 100)}, Scrolled: fyne.NewDelta(0, 75)})
	zoomed := r.look.Camera.Camera
	r.key(fyne.KeyEscape)
	if r.look.Camera.Camera.Azimuth != zoomed.Azimuth || r.look.Camera.Camera.Zoom != camera.Zoom || zoomed.Zoom <= camera.Zoom {
		t.Errorf("the bench is seen by %+v, before %+v, side by side %+v", r.look.Camera.Camera, camera, zoomed)
	}
	if r.bench.Screen.Comparing || !r.panes.Visible() {
		t.Error("Escape did not lead back")
	}
}

func TestNoMoreThanFourSideBySide(t *testing.T) {
	r := newRig(t, ring())
	for i := range 6 {
		r.wall(10 + float64(i))
		r.Rest()
		r.run("keep trial")
	}
	if got := len(view.Columns(r.bench)); got != state.MostBeside {
		t.Errorf("%d columns", got)
	}
	r.setBeside(5)
	if r.bench.Tried.Beside[r.bench.Trials()[5].Settings] {
		t.Error("a fifth was ticked")
	}
	r.setBeside(0)
	r.setBeside(5)
	if !r.bench.Tried.Beside[r.bench.Trials()[5].Settings] || len(view.Columns(r.bench)) != state.MostBeside {
		t.Errorf("%d columns after another was ticked", len(view.Columns(r.bench)))
	}
}

// A trial that wants the scan mended otherwise is worked out on a piece of its own.
func TestATrialOfAPieceMendedOtherwise(t *testing.T) {
	r := newRig(t, ring())
	r.mendSet("thin", func(m *mend.Settings) { m.Thin = 1.5 })
	r.mendedOnce()
	r.settle()
	thin := r.bench.Figures.Totals.WeightKg
	r.run("keep trial")
	r.run("undo") // the trial itself
	r.run("redo")
	r.mendSet("thin", func(m *mend.Settings) { m.Thin = 0 })
	r.mendedOnce()
	r.settle()
	r.bench.Scan.Made = nil // as after many other mendings
	r.bench.Tried.Tickets = map[state.TryKey]trial.Ticket{}
	r.bench.Tried.Pictures = map[job.Settings]state.TrialPicture{}
	r.showAll()
	r.triedOut()
	got, fault, ok := r.bench.Tried.Ticket(r.bench.Trials()[0].Settings)
	if w := got.Reckoned[trial.Weight].Value / 1000; !ok || fault != "" || w < thin-1e-9 || w > thin+1e-9 {
		t.Errorf("the thinned trial weighs %v kg, want %v; %q", w, thin, fault)
	}
	if len(r.bench.Tried.Bodies) != 1 {
		t.Errorf("%d bodies are kept", len(r.bench.Tried.Bodies))
	}
}

func TestAJobComesBackWithItsTrials(t *testing.T) {
	path := filepath.Join(t.TempDir(), "demo.grainstack")
	r := newRig(t, job.Demo())
	r.run("keep trial")
	r.wall(33)
	r.Rest()
	r.run("keep trial")
	kept := r.bench.Trials()
	r.saveTo(path)
	r.until("it is saved", func() bool { return r.bench.Path == path && !r.bench.Dirty() })
	r.run("remove trial")
	if !r.bench.Dirty() {
		t.Error("a removed trial is no change")
	}
	r.openNow(path) // without asking about what is unsaved
	r.until("it is open", func() bool { return r.bench.Model != nil && len(r.bench.Trials()) == 2 })
	if !slices.Equal(r.bench.Trials(), kept) || r.bench.Dirty() {
		t.Error("the trials came back otherwise")
	}
	if j, err := jobfile.Open(context.Background(), path, "", r.o.Catalogue, nil); err != nil || len(j.Trials) != 2 {
		t.Errorf("%d trials in the file, %v", len(j.Trials), err)
	}
}
