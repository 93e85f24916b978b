package ticket

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"grainstack/app/paper"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

func figures() *job.Figures {
	f := &job.Figures{CoreKnown: true, Thickness: 16, Layers: make([]job.Layer, 17)}
	f.Remainder.Last = 12
	f.Totals = job.Totals{WeightKg: 4.86, SavedKg: 3.1, Joint: 187000, GlueG: 420, RoughMin: 780, FineMin: 1710,
		LargestLayer: 6, Largest: geom.Vec2{X: 418, Y: 176}, FitsPanel: true}
	f.Cautions = []job.Caution{{Layer: 12, Text: "Layer 12 needs a look."}, {Text: "So does the whole."}}
	return f
}

func TestTicketSaysTheFigures(t *testing.T) {
	test.NewTempApp(t)
	said, picked := "", 0
	k := New(func(s string) { said = s }, func(n int) { picked = n })
	w := test.NewWindow(k.Object())
	defer w.Close()
	w.Resize(fyne.NewSize(1200, 90))
	k.Put(figures(), false, "", unit.Metric)
	for i, want := range [5][3]string{
		{"4.86", "kg · estimate", "3.1 kg saved"},
		{"17", "× 16 mm", "last one 12 mm"},
		{"418", "× 176 mm", "layer 6 · fits the panel"},
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
	test.Tap(sentences[0].(*paper.Pointer))
	if picked != 12 {
		t.Errorf("a click goes to layer %d", picked)
	}
}

func TestStaleAndMissingFiguresCanBeTold(t *testing.T) {
	test.NewTempApp(t)
	k := New(func(string) {}, func(int) {})
	k.Put(figures(), true, "", unit.Metric)
	if k.cells[0].figure.Text() != "4.86" || !k.cells[0].staled {
		t.Error("a stale figure looks current")
	}
	f := figures()
	f.Withheld = "The surface is not closed."
	k.Put(f, false, "", unit.Metric)
	for i, c := range k.cells {
		if i != 1 && c.figure.Text() != "–" {
			t.Errorf("%s of an open piece: %q", c.name.Text(), c.figure.Text())
		}
	}
	k.Put(nil, false, "it is being worked out.", unit.Metric)
	if k.cells[1].figure.Text() != "–" || k.cells[1].says.from == "" {
		t.Error("figures without a piece")
	}
	f = figures()
	f.Totals.FitsPanel = false
	k.Put(f, false, "", unit.Inch)
	if !k.cells[2].says.red || !strings.Contains(k.cells[2].unit.Text(), "in") {
		t.Errorf("too large: %+v", k.cells[2].says)
	}
}
