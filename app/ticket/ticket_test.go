package ticket

import (
	"strings"
	"testing"

	"grainstack/app/paper"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

func figures() *job.Figures {
	f := &job.Figures{CoreKnown: true, Thickness: 16, Layers: make([]job.Layer, 17)}
	f.Remainder.Last = 12
	f.Totals = job.Totals{WeightKg: 4.86, SavedKg: 3.1, Joint: 187000, GlueG: 420, RoughMin: 780, FineMin: 1710,
		LargestLayer: 6, Panels: 11, Largest: geom.Vec2{X: 418, Y: 176}, FitsPanel: true}
	f.Cautions = []finding.Finding{finding.InLayers(finding.Drops, 12), finding.Of(finding.AllDoubled)}
	return f
}

func TestTicketSaysTheFigures(t *testing.T) {
	test.NewTempApp(t)
	said, picked := "", 0
	k := New(func(s string) { said = s }, func(n int) { picked = n })
	w := test.NewWindow(k.Object())
	defer w.Close()
	w.Resize(fyne.NewSize(1200, 90))
	k.Put(figures(), nil, false, "", unit.Metric)
	for i, want := range [5][3]string{
		{"4.86", "kg · estimate", "3.1 kg saved"},
		{"17", "× 16 mm", "last 12 mm"},
		{"11", "· estimate", "largest 418 × 176 mm"},
		{"1870", "cm²", "420 g glue, estimate"},
		{"41.5", "h · estimate", "rough 13 · finish 28.5 h"},
	} {
		c := k.cells[i]
		if got := [3]string{c.figure.Text(), c.unit.Text(), c.note.Text()}; got != want {
			t.Errorf("%s: %q, want %q", c.name.Text(), got, want)
		}
		c.MouseIn(&desktop.MouseEvent{})
		if !strings.HasPrefix(said, c.name.Text()+": ") || len(said) < 40 {
			t.Errorf("%s comes from: %q", c.name.Text(), said)
		}
		c.MouseOut()
	}
	if said != "" {
		t.Error("the word stays")
	}
	sentences := k.looks.list.Objects
	if len(sentences) != 2 {
		t.Fatalf("%d sentences", len(sentences))
	}
	for i, want := range []string{"Layer 12, part 0 touches neither", "and 1 more"} {
		test.Tap(sentences[i].(*paper.Pointer))
		if text := sentences[i].(*paper.Pointer).Text(); picked != i || !strings.HasPrefix(text, want) {
			t.Errorf("a click on %q goes to finding %d", text, picked)
		}
	}
}

func TestTicketSaysTheWorkshop(t *testing.T) {
	test.NewTempApp(t)
	k := New(func(string) {}, func(int) {})
	v := &workshop.Workshop{Boards: []workshop.SawnBoards{{Saw: panel.SawPlan{Boards: make([]panel.SawnBoard, 2)}}}}
	v.Layout.Panels = []panel.Panel{{Number: 9}}
	v.Balance.Stands, v.Balance.TipDeg = true, 44.6
	k.Put(figures(), v, false, "", unit.Metric)
	if a, b, c := k.cells[2].figure.Text(), k.cells[2].unit.Text(), k.cells[1].note.Text(); a != "9" || b != "of 2 boards" || c != "last 12 mm · tips at 45°" {
		t.Errorf("%q %q, %q", a, b, c)
	}
	v.Balance.TipDeg = -3
	if k.Put(figures(), v, false, "", unit.Metric); k.cells[1].note.Text() != "last 12 mm · falls over" {
		t.Errorf("%q", k.cells[1].note.Text())
	}
}

func TestStaleAndMissingFiguresCanBeTold(t *testing.T) {
	test.NewTempApp(t)
	k := New(func(string) {}, func(int) {})
	k.Put(figures(), nil, true, "", unit.Metric)
	if k.cells[0].figure.Text() != "4.86" || !k.cells[0].staled {
		t.Error("a stale figure looks current")
	}
	f := figures()
	f.Withheld = unit.Say("The surface is not closed.")
	k.Put(f, nil, false, "", unit.Metric)
	for i, c := range k.cells {
		if i != 1 && c.figure.Text() != "–" {
			t.Errorf("%s of an open piece: %q", c.name.Text(), c.figure.Text())
		}
	}
	k.Put(nil, nil, false, "it is being worked out.", unit.Metric)
	if k.cells[1].figure.Text() != "–" || k.cells[1].says.from == "" {
		t.Error("figures without a piece")
	}
	f = figures()
	f.Totals.FitsPanel, f.Totals.TooLargeLayer = false, 6
	k.Put(f, nil, false, "", unit.Inch)
	if !k.cells[2].says.red || k.cells[2].note.Text() != "layer 6 is too large" {
		t.Errorf("too large: %+v", k.cells[2].says)
	}
}

// TestNothingIsSaidOnceSomebodyLooked, and not while the figures are on their way.
func TestNothingIsSaidOnceSomebodyLooked(t *testing.T) {
	test.NewTempApp(t)
	k := New(func(string) {}, func(int) {})
	says := func() string {
		if w, ok := k.looks.list.Objects[0].(*paper.Words); ok {
			return w.Text()
		}
		return "a sentence"
	}
	if got := says(); got != "–" {
		t.Errorf("at first %q", got)
	}
	clean, early := figures(), figures()
	clean.Cautions, early.Cautions = nil, nil
	clean.Simulated = true
	v := &workshop.Workshop{}
	for _, step := range []struct {
		f    *job.Figures
		want string
	}{{early, "–"}, {clean, "nothing"}, {figures(), "a sentence"}, {nil, "–"}, {clean, "nothing"}} {
		if k.Put(step.f, v, false, "none yet", unit.Metric); says() != step.want {
			t.Errorf("%q, want %q", says(), step.want)
		}
	}
}

// TestRoughOf: rough and finish share a unit only where the words before it are figures.
func TestRoughOf(t *testing.T) {
	for _, c := range []struct {
		rough, fine float64
		want        string
	}{
		{0.2, 0.3, "under 1"}, {0.2, 12, "under 1"}, {12, 90, "12 min"}, {780, 1710, "13"},
	} {
		if got := roughOf(job.Totals{RoughMin: c.rough, FineMin: c.fine}); got != c.want {
			t.Errorf("%.1f and %.1f min: %q, want %q", c.rough, c.fine, got, c.want)
		}
	}
}

// On one line only the worst of what needs a look stands in the ticket, and fits it; higher again, the rest is told as before.
func TestOneLineHoldsTheWorst(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(paper.NewTheme(paper.Light, nil, nil))
	k := New(func(string) {}, func(int) {})
	w := test.NewWindow(k.Object())
	defer w.Close()
	w.SetPadded(false)
	k.Put(figures(), nil, false, "", unit.Metric)
	k.Low(true)
	w.Resize(fyne.NewSize(1024, lowHeight))
	shown := k.looks.list.Objects
	if len(shown) != 1 || shown[0] != fyne.CanvasObject(k.looks.worst) {
		t.Fatalf("on one line %d sentences stand", len(shown))
	}
	room := k.looks.box.(*fyne.Container).Objects[2].Size().Height
	if least := k.looks.list.MinSize().Height; least > room {
		t.Errorf("they want %g, and have %g", least, room)
	}
	k.Low(false)
	if shown := k.looks.list.Objects; len(shown) != 2 {
		t.Errorf("higher again %d sentences stand", len(shown))
	}
}
