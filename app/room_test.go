package app

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/app/pane"
	"grainstack/app/route"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestTheOneInHandIsTheLargeOne: one key swaps piece and sheet, as each sheet remembers it; another gives one of them the whole
// window, in which a panel of 600 mm is 400 units wide even where the window is small.
func TestTheOneInHandIsTheLargeOne(t *testing.T) {
	r := laidRig(t)
	r.win.Resize(fyne.NewSize(1024, 640))
	r.run("sheet Panels")
	r.laid("the layout")
	r.settle()
	wide := func() (piece, sheet float32) { return r.look.Whole.Size().Width, r.folder.whole.Size().Width }
	if piece, sheet := wide(); piece <= sheet {
		t.Errorf("at first the piece is %v wide, the sheet %v", piece, sheet)
	}
	if w := r.stick.Size().Width; w < 120 {
		t.Errorf("the story stick is %v wide", w)
	}
	r.run("swap")
	r.drain()
	if piece, sheet := wide(); piece >= sheet {
		t.Errorf("swapped, the piece is %v wide, the sheet %v", piece, sheet)
	}
	r.run("sheet Layer")
	r.drain()
	if piece, sheet := wide(); piece <= sheet {
		t.Errorf("another sheet has taken the swap over: %v, %v", piece, sheet)
	}
	r.run("sheet Panels")
	r.drain()
	if piece, sheet := wide(); piece >= sheet {
		t.Errorf("back on the panels the swap is forgotten: %v, %v", piece, sheet)
	}
	if got := r.app.Preferences().StringList(prefLarge); len(got) != 1 || got[0] != panelsName {
		t.Errorf("remembered are %v", got)
	}
	r.panels.Picture.Focus()
	r.run("alone")
	r.until("the panel in the whole window", func() bool {
		return r.folder.whole.Size().Width == 1024 && r.panels.Now.Ask.At == r.panels.At && r.panels.Frame() != nil && r.panels.Frame().Rect.Dx() == int(r.panels.Size().Width+0.5) && !r.panels.Busy()
	})
	if got := r.panels.Now.Out.Panel.PerMM * r.bench.Settings().PanelX; r.bench.Settings().PanelX != 600 || got < 400 {
		t.Errorf("a panel of %v mm is %.0f wide", r.bench.Settings().PanelX, got)
	}
	if r.look.Whole.Visible() || r.cards.scroll.Whole.Visible() || r.ticket.Object().Size().Height > 0 && r.roomer.foot.Visible() {
		t.Error("it is not alone")
	}
	r.press(fyne.KeyEscape)
	if piece, sheet := wide(); !r.look.Whole.Visible() || piece >= sheet {
		t.Errorf("Escape leads to %v, %v", piece, sheet)
	}
	r.look.Focus()
	r.press(fyne.KeyF11)
	if !r.look.Whole.Visible() || r.folder.whole.Visible() || r.look.Whole.Size().Width != 1024 {
		t.Errorf("the piece is not alone: %+v, %v wide, seen %v, the sheet %v", r.bench.Screen.Room(), r.look.Whole.Size().Width, r.look.Whole.Visible(), r.folder.whole.Visible())
	}
	r.press(fyne.Key5) // a card is wanted
	if !r.cards.scroll.Whole.Visible() {
		t.Error("a card that was folded out is not to be seen")
	}
}

// TestAPanelIsLargeInALowWindow: where the sheet is the large one, cards give way to it until one is wanted, and a panel of 600 mm is
// 400 units wide even where the window is 600 high.
func TestAPanelIsLargeInALowWindow(t *testing.T) {
	r := laidRig(t)
	wide := func(high float32) float64 {
		r.win.Resize(fyne.NewSize(1024, high))
		r.changed()
		r.until("the panel is drawn anew", func() bool {
			s := r.panels
			return r.bench.Screen.Low && r.ticket.Object().MinSize().Height < 60 && !r.cards.scroll.Whole.Visible() && s.Frame() != nil && s.Frame().Rect.Dx() == int(s.Size().Width+0.5) && s.Frame().Rect.Dy() == int(s.Size().Height+0.5) && !s.Busy() && len(r.queue) == 0
		})
		return r.panels.Now.Out.Panel.PerMM * 600
	}
	r.win.Resize(fyne.NewSize(1024, 640))
	r.run("sheet Panels")
	r.laid("the layout")
	r.settle()
	r.run("swap")
	for _, tt := range []struct {
		high  float32
		alone bool
		least float64
	}{{640, false, 430}, {600, false, 400}, {640, true, 450}, {600, true, 410}} {
		if alone := r.bench.Screen.Room().Alone != state.Neither; alone != tt.alone {
			r.run("alone")
		}
		if got := wide(tt.high); got < tt.least {
			t.Errorf("%v high, alone %v: a panel is %.0f wide, want %.0f; the picture is %v, its frame %v, the panel in %v of panel %d", tt.high, tt.alone, got, tt.least, r.panels.Size(), r.panels.Frame().Rect, r.panels.Now.Out.Panel.Plan, r.panels.Now.Ask.At)
		} else {
			t.Logf("%v high, alone %v: %.0f", tt.high, tt.alone, got)
		}
		if r.cards.scroll.Whole.Visible() || r.top.whole.Visible() && r.roomer.head.Visible() == tt.alone {
			t.Errorf("%v high, alone %v: cards are seen %v, the head %v", tt.high, tt.alone, r.cards.scroll.Whole.Visible(), r.roomer.head.Visible())
		}
	}
	r.run("alone")
	r.press(fyne.Key5)
	r.drain()
	if !r.cards.scroll.Whole.Visible() {
		t.Error("a card that is wanted is not to be seen")
	}
	r.press(fyne.Key5)
	r.until("folded, it gives way", func() bool { return !r.cards.scroll.Whole.Visible() })
}

// TestOneCardIsOpen at a time, and those that are pinned beside it.
func TestOneCardIsOpen(t *testing.T) {
	r := newRig(t, ring())
	open := func() (all []int) {
		for _, c := range r.cards.all {
			if c.Open() {
				all = append(all, c.Number)
			}
		}
		return all
	}
	for _, step := range []struct {
		key  fyne.KeyName
		want string
	}{{fyne.Key4, "4"}, {fyne.Key5, "5"}, {fyne.KeyInsert, "5"}, {fyne.Key4, "4 5"}, {fyne.Key6, "5 6"}, {fyne.Key6, "5"}, {fyne.Key5, ""}, {fyne.Key5, "5"}, {fyne.Key7, "7"}} {
		r.press(step.key)
		got := ""
		for i, n := range open() {
			if i > 0 {
				got += " "
			}
			got += string(rune('0' + n))
		}
		if got != step.want {
			t.Fatalf("after %s the cards %q are open, want %q", step.key, got, step.want)
		}
	}
	r.press(fyne.Key3)
	if !r.turning() {
		t.Error("with the Stand card dragging turns the view")
	}
	r.press(fyne.Key4)
	if r.turning() {
		t.Error("with the Stand card folded dragging turns the piece")
	}
	if r.press(fyne.KeySlash); !r.turning() {
		t.Error("by its key dragging does not turn the piece")
	}
}

// TestWhatWrapsDoesNotMoveTheSheet: the picture keeps its place whatever the words under it say.
func TestWhatWrapsDoesNotMoveTheSheet(t *testing.T) {
	r := newRig(t, ring())
	r.win.Resize(fyne.NewSize(1024, 640))
	r.settle()
	before := r.sheet.Size()
	for n := 1; n <= len(r.bench.Figures.Layers); n++ {
		r.pick(n)
		r.settle()
		if now := r.sheet.Size(); now != before {
			t.Fatalf("on layer %d the sheet is %v, before %v", n, now, before)
		}
	}
}

// TestTheLineOfTheJobLeads to cards and sheets; what was called off is struck and goes on by a click, and the unit is asked for.
func TestTheLineOfTheJobLeads(t *testing.T) {
	r := newRig(t, ring())
	r.until("the cutters are followed", func() bool { return r.bench.Reached() != nil })
	mark := func(s route.Step) pane.StopMark { return r.router.line.Stops()[s].Mark }
	click := func(s route.Step) {
		at, size := r.router.line.Box(int(s))
		test.TapAt(r.router.line, at.AddXY(size.Width/2, size.Height/2))
		r.drain()
	}
	r.until("the line says so", func() bool {
		return mark(route.Reach) == pane.StopSettled || mark(route.Reach) == pane.StopInDoubt
	})
	click(route.Wall)
	if c := r.cards.opened(); c == nil || c.Title != "Wall" {
		t.Error("Wall does not lead to its card")
	}
	click(route.Glue)
	if r.folder.inFront().name != "Glue-up" {
		t.Errorf("Glue-up leads to %q", r.folder.inFront().name)
	}
	r.wall(13)
	r.Rest()
	r.until("the cutters are being followed anew", func() bool {
		return r.bench.Tasks.Reach.State == task.Working && mark(route.Reach) == pane.StopAtWork
	})
	r.run("cancel")
	r.until("that is struck", func() bool { return mark(route.Reach) == pane.StopLeft })
	click(route.Reach)
	r.until("it goes on", func() bool { return mark(route.Reach) != pane.StopLeft && r.bench.Reached() != nil })
	p := job.NewPiece("scan", solidtest.Torus(0.08, 0.043, 60, 30), mesh.Raw{})
	p.File = filepath.Join(t.TempDir(), "scan.stl")
	r.bench.Put(state.NewModel(r.bench.Job(), r.bench.Settings()))
	r.bench.Model.Piece.File = p.File
	r.changed()
	r.until("the unit is guessed", func() bool { return mark(route.Size) == pane.StopGuessed })
	click(route.Size)
	if len(r.pages) != 1 {
		t.Fatal("the unit is not asked for")
	}
	r.press(fyne.KeyRight) // centimetres
	r.press(fyne.KeyReturn)
	r.until("it is said", func() bool { return mark(route.Size) != pane.StopGuessed })
	if r.bench.Settings().Scale != 10 {
		t.Errorf("in centimetres the scale is %v", r.bench.Settings().Scale)
	}
}

// TestTheFirstStartSaysWhatToDo on the piece, until the first change, and never again.
func TestTheFirstStartSaysWhatToDo(t *testing.T) {
	r := newRig(t, ring())
	if len(r.starter.lies) == 0 {
		t.Fatal("nothing is said")
	}
	for _, words := range startWords {
		if strings.Count(words, ".") == 0 || len(words) > 110 {
			t.Errorf("%q is no short sentence", words)
		}
	}
	r.wall(11)
	r.Rest()
	r.settle()
	if len(r.starter.lies) > 0 || !r.app.Preferences().Bool(prefBegun) {
		t.Error("after a change it is still said, or not remembered")
	}
	r.run("undo")
	r.settle()
	if len(r.starter.lies) > 0 {
		t.Error("undone, it is said again")
	}
}

// TestTheFirstWordsLieOnNothingThatIsFlownTo, since they would lie across it.
func TestTheFirstWordsLieOnNothingThatIsFlownTo(t *testing.T) {
	r := newRig(t, ring())
	r.until("something needs a look", func() bool { open, _ := r.bench.Snags(); return len(open) > 0 })
	r.run("next snag")
	r.settle()
	if len(r.starter.lies) > 0 {
		t.Error("the words lie over the place")
	}
}

// TestTheTenStepsHavePictures, and all of them open.
func TestTheTenStepsHavePictures(t *testing.T) {
	r := newRig(t, ring())
	if len(tenSteps) != 10 {
		t.Errorf("%d steps", len(tenSteps))
	}
	for _, one := range tenSteps {
		if img, err := r.readPicture(one.picture); err != nil || img.Bounds().Dx() < 200 {
			t.Errorf("%q has no picture: %v", one.title, err)
		}
	}
	r.run("ten steps")
	if len(r.pages) != 1 {
		t.Error("the page did not open")
	}
}

// TestCardsMakeRoom: a folded card whose line wraps anew moves those under it.
func TestCardsMakeRoom(t *testing.T) {
	r := hareRig(t)
	high := func() (all []float32) {
		for _, one := range r.cards.all {
			all = append(all, one.Size().Height)
		}
		return all
	}
	was := high()
	r.set("many layers left solid", func(s *job.Settings) { s.Wall, s.CapBottom, s.CapTop = 21.37, 12, 10 })
	r.set("a finish", func(s *job.Settings) { s.PanelX, s.PanelY = 1187.35, 1171.65 })
	r.settle()
	r.run("units")
	r.drain()
	if slices.Equal(was, high()) {
		t.Fatal("no card has become taller: the test looks at nothing")
	}
	for i, one := range r.cards.all[1:] {
		above := r.cards.all[i]
		if end := above.Position().Y + above.MinSize().Height; one.Position().Y < end {
			t.Errorf("%s ends at %.1f, %s begins at %.1f", above.Title, end, one.Title, one.Position().Y)
		}
	}
}
