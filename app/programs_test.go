package app

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/app/files"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/proof"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A handClock stands still until the test moves it; what is to come later waits until it is told to come.
type handClock struct {
	at   time.Time
	next func()
}

func (h *handClock) clock() clock {
	return clock{func() time.Time { return h.at }, func(_ time.Duration, f func()) { h.next = f }}
}

// beat lets so much time pass and what has waited come.
func (h *handClock) beat(r *rig, d time.Duration) {
	h.at = h.at.Add(d)
	f := h.next
	h.next = nil
	if f != nil {
		f()
	}
	r.drain()
}

// programsRig is a window on a small frustum on small panels with the sheet of programs in front.
func programsRig(t *testing.T) *rig {
	t.Helper()
	r := newRig(t, job.NewPiece("frustum", solidtest.Frustum(30, 20, 16, 60), mesh.Raw{}))
	r.Do("panel", func(s job.Settings) job.Settings { s.PanelX, s.PanelY = 160, 120; return s })
	r.Rest()
	r.settle()
	r.run("sheet " + state.ProgramsSheet)
	r.until("the layout", func() bool {
		v, now := r.bench.Shop.Newest()
		return now && v.Improved && r.bench.Tasks.Shop.State != task.Working && len(r.queue) == 0
	})
	return r
}

// worked waits for all programs and for the picture of the panel.
func (r *rig) worked() {
	r.t.Helper()
	r.until("programs", func() bool {
		return r.bench.Tasks.Programs.State == task.Done && r.bench.Programs.Running() != nil && r.pictured()
	})
}

// pictured reports whether the picture on the sheet is of the minute that is looked at.
func (r *rig) pictured() bool {
	return r.programs.Now.Ask.Course == r.bench.Programs.Running() && r.programs.Now.Ask.Minute == r.bench.Programs.Minute && !r.programs.Busy() && len(r.queue) == 0
}

// TestProgramsAreWorkedOutOnAsking, and not before; Escape calls it off, and it is gone on with; another setting leaves what is
// there stale.
func TestProgramsAreWorkedOutOnAsking(t *testing.T) {
	r := programsRig(t)
	if r.bench.Tasks.Programs.State != task.Idle || !strings.Contains(r.bench.Programs.Why(), "Press Work out") {
		t.Fatalf("unasked: %v, %q", r.bench.Tasks.Programs.State, r.bench.Programs.Why())
	}
	r.run("programs")
	if r.bench.Tasks.Programs.State != task.Working {
		t.Fatalf("asked for: %v; %q", r.bench.Tasks.Programs.State, r.margin.words.Text())
	}
	r.run("cancel")
	if r.bench.Tasks.Programs.State != task.Off {
		t.Fatalf("called off: %v", r.bench.Tasks.Programs.State)
	}
	r.until("a word in the margin", func() bool {
		said := r.margin.working.Text()
		return strings.HasPrefix(said, "called off: ") && strings.Contains(said, "working the programs out")
	})
	r.run("go on")
	r.worked()
	p := &r.bench.Programs
	if len(p.Made) != 1 || !p.Shown().Refused.None() || !p.Shown().Proof.Holds() || p.Stale() {
		t.Fatalf("%d panels, refused %q, stale %v", len(p.Made), p.Shown().Refused, p.Stale())
	}
	if words := r.programs.Now.Out.Words; !strings.Contains(words, "line ") || !strings.Contains(words, "minute 0.0 of") {
		t.Errorf("the sheet says %q", words)
	}
	r.Do("panel", func(s job.Settings) job.Settings { s.PanelX = 170; return s })
	r.until("a pale sheet", func() bool { return p.Stale() && p.Running() != nil && r.pictured() })
	if p.Shown() == nil {
		t.Error("what was there is gone")
	}
	r.run("undo")
	if p.Stale() {
		t.Error("with the settings of before it is still stale")
	}
}

// TestProgramsArePlayed at the speed that is stated, by key, up to the end, and no more once the sheet is out of sight; lines,
// minutes and programs are gone to by key, and the board on the picture is that of the minute.
func TestProgramsArePlayed(t *testing.T) {
	r := programsRig(t)
	r.run("programs")
	r.worked()
	p, h := &r.bench.Programs, &handClock{at: time.Unix(1000, 0)}
	c := p.Running()
	r.programHand.clock = h.clock()
	p.Speed = 300
	r.keyed(fyne.KeySpace)
	if !p.Playing {
		t.Fatal("the space bar does not play")
	}
	h.beat(r, 200*time.Millisecond)
	if math.Abs(p.Minute-1) > 1e-9 || !p.Playing {
		t.Errorf("after a fifth of a second 300 times as fast it is minute %g", p.Minute)
	}
	r.keyed(fyne.KeySpace)
	h.beat(r, time.Second)
	if math.Abs(p.Minute-1) > 1e-9 || p.Playing {
		t.Errorf("stopped, it goes on to minute %g", p.Minute)
	}
	r.keyed(fyne.KeyRightBracket)
	line := c.At(math.Nextafter(p.Minute, 0)).Line
	r.keyed(fyne.KeyRightBracket)
	if next := c.At(math.Nextafter(p.Minute, 0)).Line; next <= line {
		t.Errorf("a line on from %d is %d", line, next)
	}
	r.keyed(fyne.KeyLeftBracket)
	if back := c.At(math.Nextafter(p.Minute, 0)).Line; back != line {
		t.Errorf("and back it is line %d, want %d", back, line)
	}
	first := c.At(p.Minute).Program
	r.keyPrograms(fyne.KeyPageDown)
	if got := c.At(p.Minute); got.Program != first+1 || got.Minute > 1e-6 {
		t.Errorf("the next program of %d is %d at minute %g", first, got.Program, got.Minute)
	}
	r.programActions().Minute(c.Minutes())
	r.until("the picture of the end", r.pictured)
	if got := r.programs.Now.Out.Moment; got.Program != len(p.Shown().Programs)-1 {
		t.Errorf("at the end it is program %d", got.Program)
	}
	r.keyed(fyne.KeySpace) // from the end it begins anew
	h.beat(r, 100*time.Millisecond)
	if !p.Playing || p.Minute > 1 {
		t.Errorf("played from the end it is minute %g, playing %v", p.Minute, p.Playing)
	}
	h.beat(r, time.Hour)
	if p.Playing || p.Minute != c.Minutes() {
		t.Errorf("an hour later it is minute %g of %g, playing %v", p.Minute, c.Minutes(), p.Playing)
	}
	r.keyed(fyne.KeySpace)
	r.run("sheet Layer")
	r.drain()
	if p.Playing {
		t.Error("out of sight it plays on")
	}
	r.keyed(fyne.KeySpace)
	if p.Playing {
		t.Error("out of sight it begins to play")
	}
}

// TestAFaultIsShownAtItsPlace: programs that are refused are shown all the same; Enter and a click on its ring go to each fault, its
// line and its place, and its sentence stands on the sheet in the units that are chosen.
func TestAFaultIsShownAtItsPlace(t *testing.T) {
	r := programsRig(t)
	r.run("programs")
	r.worked()
	p := &r.bench.Programs
	was := p.Shown()
	spoilt, found := *was, *was.Proof
	rough := was.Programs[1].Files[0].Name
	found.Faults = []proof.Fault{{What: proof.IntoPart, File: rough, Line: 400, Part: 1, Size: 0.4, Bound: 0.05, At: geom.Vec{X: 100, Y: 90}}, {What: proof.TooDeep, File: rough, Line: 300, Size: 4, Bound: 3, At: geom.Vec{X: 40, Y: 30}}}
	spoilt.Proof, spoilt.Refused = &found, unit.Say("they are refused")
	p.Made = []*proof.Batch{&spoilt}
	r.changed()
	r.until("the refused programs", func() bool { return p.Running() != nil && p.Carved == &spoilt && r.pictured() })
	if !strings.Contains(r.programs.Now.Out.Words, "2 faults") {
		t.Errorf("the sheet says %q", r.programs.Now.Out.Words)
	}
	for n, line := range []int{400, 300, 400} {
		r.keyPrograms(fyne.KeyReturn)
		r.until("the fault", func() bool {
			return r.pictured() && strings.Contains(r.programs.Now.Out.Words, found.Faults[n%2].String())
		})
		m := r.programs.Now.Out.Moment
		if m.Line != line || m.Program != 1 {
			t.Errorf("fault %d is at line %d of program %d, want line %d", n+1, m.Line, m.Program, line)
		}
	}
	at := r.programs.Now.Out.ToSheet(geom.Vec2{X: 40, Y: 30})
	click := fyne.NewPos(float32(at.X)+3, float32(at.Y)-2)
	r.clickPrograms(click)
	if p.Fault != 2 {
		t.Fatalf("a click on the second ring leads to fault %d", p.Fault)
	}
	high := r.programs.Picture.Size()
	r.programActions().Minute(1)
	r.until("the minute", r.pictured)
	if p.Fault != 0 || r.programs.Picture.Size() != high {
		t.Errorf("elsewhere fault %d is picked; the picture is of %v, at the fault of %v", p.Fault, r.programs.Picture.Size(), high)
	}
	for n, line := range []int{400, 300} {
		test.Tap(r.programs.Places()["facts"].(fyne.Tappable))
		r.until("the fault", r.pictured)
		if m := r.programs.Now.Out.Moment; p.Fault != n+1 || m.Line != line {
			t.Errorf("a click on the sentence leads to fault %d at line %d, want %d at %d", p.Fault, m.Line, n+1, line)
		}
	}
	r.run("units")
	r.until("the fault in inches", func() bool {
		return r.pictured() && strings.Contains(r.programs.Now.Out.Words, "takes 0.157 in at once at X 1.57 in, Y 1.18 in")
	})
	r.clickPrograms(click.AddXY(60, 60))
	if p.Fault != 2 {
		t.Errorf("a click beside every ring leads to fault %d", p.Fault)
	}
}

// TestProgramsAreWrittenFromThePage, each byte as the command writes them, which works everything out from the settings itself; a
// machine that takes no more than so many lines gets several files of a program, which the page counts and lists.
func TestProgramsAreWrittenFromThePage(t *testing.T) {
	r := programsRig(t)
	shelf := *r.bench.Shelf.Now
	shelf.Machines = slices.Clone(shelf.Machines)
	for i := range shelf.Machines {
		shelf.Machines[i].Controller.MostLines = 400
	}
	r.bench.Shelf.Now = &shelf
	r.changed()
	r.until("the layout", func() bool {
		v, now := r.bench.Shop.Newest()
		return now && v.Improved && r.bench.Tasks.Shop.State != task.Working && len(r.queue) == 0
	})
	r.run("make")
	p := r.making.page
	for k, c := range p.kinds {
		c.SetChecked(k == files.Programs)
	}
	group := func() [3]string { return p.list.rows[0].words }
	if !strings.HasSuffix(group()[1], "files or more") || !strings.Contains(p.said.Text, "or more, as programs are divided") {
		t.Errorf("before they are written the page says %q and %q", group(), p.said.Text)
	}
	byPage, byCommand := filepath.Join(t.TempDir(), "page"), filepath.Join(t.TempDir(), "command")
	p.folder.SetText(byPage)
	p.ask()
	r.until("they are written", func() bool { return !r.making.busy() && !r.tasks.make.Busy() && len(r.queue) == 0 })

	f, err := job.Settle(t.Context(), r.bench.Standing, r.bench.Settings(), &shelf)
	if err != nil {
		t.Fatal(err)
	}
	w := p.work
	w.Figures = f
	if w.Workshop, err = workshop.New(t.Context(), r.bench.Standing, f, job.Places{}, &shelf, workshop.Watch{}); err != nil {
		t.Fatal(err)
	}
	list, err := files.List(w, []files.Kind{files.Programs})
	if err != nil {
		t.Fatal(err)
	}
	written, err := files.Write(t.Context(), w, byCommand, list, nil)
	if err != nil {
		t.Fatal(err)
	}
	programs := 0
	for _, one := range written {
		want, err := os.ReadFile(filepath.Join(byCommand, one.Name))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.Join(byPage, one.Name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s from the page has %d bytes, otherwise %d; %v", one.Name, len(got), len(want), err)
		}
		if strings.HasPrefix(one.Name, "programs/") {
			programs++
		}
	}
	if programs <= len(list)-1 {
		t.Fatalf("no program of %d was divided into several files: %d", len(list)-1, programs)
	}
	if got, want := group()[1], fmt.Sprintf("%d files, ", programs); !strings.HasPrefix(got, want) || !strings.HasPrefix(p.said.Text, fmt.Sprintf("Written: %d files", len(written))) {
		t.Errorf("of %d programs the page says %q and %q", programs, got, p.said.Text)
	}
	p.list.shown.Select(0)
	if shown := len(p.list.rows); shown != 1+len(written) {
		t.Errorf("unfolded it lists %d lines of %d files", shown, len(written))
	}
}
