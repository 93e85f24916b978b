package job_test

import (
	"context"
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/panel"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/workshop"
)

// TestMixRoundTrip: what is put into a mix is found in it and nothing else, and its words read back to the same mix.
func TestMixRoundTrip(t *testing.T) {
	keys := rapid.SampledFrom([]string{"", "walnut-18-13", "beech-18-13", "mdf-18"})
	rapid.Check(t, func(t *rapid.T) {
		var m job.Mix
		want := map[int]job.Other{}
		for range rapid.IntRange(0, 12).Draw(t, "steps") {
			n := rapid.IntRange(1, 15).Draw(t, "layer")
			o := job.Other{Board: keys.Draw(t, "board"), Turn: rapid.Bool().Draw(t, "turn")}
			m, want[n] = m.With(n, o), o
		}
		back, err := job.ParseMix(string(m))
		if err != nil || back != m {
			t.Fatalf("%q reads back as %q: %v", m, back, err)
		}
		for n := range 20 {
			if m.Of(n) != want[n] {
				t.Fatalf("layer %d of %q is %+v, want %+v", n, m, m.Of(n), want[n])
			}
			m = m.With(n, job.Other{})
		}
		if m != "" {
			t.Fatalf("with every layer as the rest, %q is left", m)
		}
	})
}

// FuzzParseMix: whatever is read is written in one way, which reads back to itself; the rest is refused in a sentence.
func FuzzParseMix(f *testing.F) {
	for _, s := range []string{"", "5:walnut-18-13, 9:turn", "3-5:beech-18-13+turn", "7:turn+mdf-18", "1000:a", "0:turn", "5:turn,5:turn", "a:b", "1:a b", "1:+", "1-99999999999999999999:turn"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := job.ParseMix(text)
		if err != nil {
			if m != "" || err.Error() == "" {
				t.Fatalf("%q gives %q and %q", text, m, err)
			}
			return
		}
		again, err := job.ParseMix(string(m))
		if err != nil || again != m {
			t.Fatalf("%q is written %q, which is read as %q: %v", text, m, again, err)
		}
	})
}

func TestMixSentences(t *testing.T) {
	for text, want := range map[string]string{
		"5":                                "write its number, a colon",
		"0:turn":                           `"0" is no layer`,
		"1001:turn":                        `"1001" is no layer`,
		"7-5:turn":                         `"7-5" is no layer`,
		"5:":                               `layer 5: name a board, or "turn"`,
		"5:turn+turn":                      `layer 5: name a board, or "turn"`,
		"5:a+b":                            "a layer is of one board",
		"5:a b":                            "can't be the key of a board",
		"5:turn, 4-6:mdf-18":               "layer 5 is named twice",
		"1:" + strings.Repeat("x", 70):     "more than 64 letters",
		strings.Repeat("1:turn,", 128<<10): "longer than",
	} {
		if _, err := job.ParseMix(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40q: %v, want %q", text, err, want)
		}
	}
	if m, err := job.ParseMix(" 9 : turn ,5:turn + walnut-18-13,, 2-3:beech-18-13"); err != nil || m != "2:beech-18-13, 3:beech-18-13, 5:walnut-18-13+turn, 9:turn" {
		t.Errorf("got %q: %v", m, err)
	}
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Mix = "4:oak-18"
	if err := s.Check(c); err == nil || !strings.Contains(err.Error(), `layer 4: there is no board "oak-18"`) {
		t.Errorf("an unknown board: %v", err)
	}
}

// block is a block of 100 × 80 × 64 mm, 4 layers of 16 mm, solid.
func block(t testing.TB, s job.Settings) *job.Standing {
	return standing(t, solidtest.Box(100, 80, 64), s)
}

func blockSettings(t testing.TB) job.Settings {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	return s
}

// TestWeightOfMixedBlock: a layer of 100 × 80 × 16 mm holds 128 cm³: 87.68 g of birch plywood at 685 kg/m³, 80.64 g of walnut
// at 630 (the catalogue's figures). One layer of four in walnut weighs 3 × 87.68 + 80.64 = 343.68 g.
func TestWeightOfMixedBlock(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := blockSettings(t)
	st := block(t, s)
	near(t, "all birch", settle(t, st, s, c).Totals.WoodKg, 0.35072, 1e-6)
	s.Mix = "2:walnut-18-13, 9:mdf-18"
	f := settle(t, st, s, c)
	near(t, "one layer walnut", f.Totals.WoodKg, 0.34368, 1e-6)
	quick, err := job.Instant(context.Background(), st, s, c)
	if err != nil || quick.Totals.WoodKg != f.Totals.WoodKg {
		t.Errorf("at once %.6f kg, settled %.6f: %v", quick.Totals.WoodKg, f.Totals.WoodKg, err)
	}
	near(t, "the walnut layer", f.Layers[1].WoodKg(), 0.08064, 1e-6)
	if f.Layers[1].Board.Key != "walnut-18-13" || f.Layers[0].Board.Key != s.Board || len(f.Layers) != 4 {
		t.Errorf("layers are of %s, %s", f.Layers[0].Board.Key, f.Layers[1].Board.Key)
	}
	if f.Layers[1].Veneers[0].Species != "walnut" || math.Abs(f.Layers[1].Skim-0.85) > 1e-9 {
		t.Errorf("veneers of %s under a skim of %g, want walnut under 0.85", f.Layers[1].Veneers[0].Species, f.Layers[1].Skim)
	}
	w, err := workshop.New(context.Background(), st, f, job.Places{}, c, workshop.Watch{})
	if err != nil || !w.Withheld.None() {
		t.Fatal(err, w.Withheld)
	}
	near(t, "mass on the floor", w.Balance.MassG/1000, f.Totals.WeightKg, 1e-9)
	// Walnut at 630 is the lighter of the two: its joints take the lower pressure, those between birch the higher one.
	if a, b := w.Joints[0].PressureMPa, w.Joints[2].PressureMPa; !(a < b) {
		t.Errorf("pressure at the walnut %g MPa, at the birch %g", a, b)
	}
}

// TestBoardsByKind: five walnut layers of a stack of ten fill panels of their own; a board of 2440 × 1220 gives eight panels of
// 600 × 600, a layer of 400 × 400 takes one.
func TestBoardsByKind(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := blockSettings(t)
	var err error
	if s, err = s.WithPrices("birch-18-13:80, walnut-18-13:145.5", c); err != nil {
		t.Fatal(err)
	}
	if s.Mix, err = job.ParseMix("1-9:walnut-18-13"); err != nil {
		t.Fatal(err)
	}
	st := standing(t, solidtest.Box(400, 400, 160), s)
	f := settle(t, st, s, c)
	w, err := workshop.New(context.Background(), st, f, job.Places{}, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := report.New(context.Background(), st, f, 0)
	if err != nil {
		t.Fatal(err)
	}
	r.AddWorkshop(w, c)
	if f.Totals.Panels != 10 || w.Panels() != 10 || w.Boards.Count() != 3 || r.Boards.Count != 3 || r.Boards.Panels != 10 {
		t.Errorf("%d panels at once, %d laid, %d boards, reported %+v", f.Totals.Panels, w.Panels(), w.Boards.Count(), r.Boards)
	}
	near(t, "all boards", r.Boards.Cost, 80+2*145.5, 1e-9)
	for i, want := range []report.Board{{Board: "birch-18-13", Count: 1, Panels: 1, Cost: 80}, {Board: "walnut-18-13", Count: 2, Panels: 9, Cost: 291}} {
		got := r.Boards.Kinds[i]
		if got.Board != want.Board || got.Count != want.Count || got.Panels != want.Panels || got.Cost != want.Cost {
			t.Errorf("got %+v, want %+v", got, want)
		}
	}
	seen := map[int]int{}
	for _, k := range w.Boards {
		for _, n := range k.Panels {
			seen[n]++
		}
	}
	for _, p := range w.Layout.Panels {
		board := w.BoardOf(p)
		if seen[p.Number] != 1 {
			t.Errorf("panel %d is sawn %d times", p.Number, seen[p.Number])
		}
		for _, q := range p.Placed {
			if own := f.Layers[q.Part.Layer-1].Board.Key; own != board {
				t.Errorf("panel %d is of %s and holds layer %d of %s", p.Number, board, q.Part.Layer, own)
			}
		}
	}
}

// TestMixedPanelsShareBoardsOnly: small layers share panels, but never across boards; a part locked by the maker onto a panel
// whose board has changed is laid anew.
func TestMixedPanelsShareBoardsOnly(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := blockSettings(t)
	st := block(t, s)
	w, err := workshop.New(context.Background(), st, settle(t, st, s, c), job.Places{}, c, workshop.Watch{})
	if err != nil || len(w.Layout.Panels) != 1 {
		t.Fatalf("%d panels, want 1: %v", len(w.Layout.Panels), err)
	}
	places := w.Places.PlacesOf(w.Layout)
	for i := range places.Parts {
		places.Parts[i].Locked = true
	}
	s.Mix = "3:walnut-18-13"
	f := settle(t, st, s, c)
	if f.Totals.Panels != 2 {
		t.Errorf("%d panels at once, want 2", f.Totals.Panels)
	}
	if w, err = workshop.New(context.Background(), st, f, places, c, workshop.Watch{}); err != nil {
		t.Fatal(err)
	}
	n, _, ok := w.Layout.Find(panel.ID{Layer: 3})
	if !ok || n == 1 || len(w.Layout.Panels) != 2 {
		t.Errorf("the walnut layer lies on panel %d of %d", n, len(w.Layout.Panels))
	}
	told := false
	for _, one := range w.Cautions {
		told = told || one.Layer() == 3 && strings.Contains(one.Why.String(), "another board")
	}
	if !told {
		t.Errorf("not told: %v", w.Cautions)
	}
}

// TestGrainOfTurnedLayer: turning one layer of an alternating stack makes the joints at both its faces double, and they are
// named; entries beyond the top do nothing, not even a caution.
func TestGrainOfTurnedLayer(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := blockSettings(t)
	st := block(t, s)
	plain := settle(t, st, s, c)
	s.Mix = "8:turn, 9:walnut-18-13"
	beyond := settle(t, st, s, c)
	beyond.For = plain.For
	if a, b := marshal(t, plain), marshal(t, beyond); a != b {
		t.Error("layers beyond the top change the figures")
	}
	s.Mix = "3:turn"
	f := settle(t, st, s, c)
	for i, want := range []stack.Grain{stack.NoGrain, stack.Alternates, stack.Doubles, stack.Doubles} {
		if f.Layers[i].Grain != want {
			t.Errorf("layer %d: %v, want %v", i+1, f.Layers[i].Grain, want)
		}
	}
	if !f.Layers[2].Turned || f.Totals.DoubledJoints != 2 {
		t.Errorf("turned %v, %d doubled joints", f.Layers[2].Turned, f.Totals.DoubledJoints)
	}
	said := ""
	for _, one := range f.Cautions {
		said += finding.Words{}.Text(one)
	}
	if !strings.Contains(said, "under layers 3 and 4 the grain doesn't cross") || strings.Contains(said, "every second layer") {
		t.Errorf("said: %s", said)
	}
	w, err := workshop.New(context.Background(), st, f, job.Places{}, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	if _, at, ok := w.Layout.Find(panel.ID{Layer: 3}); !ok || at.TurnDeg%180 != 90 {
		t.Errorf("the turned layer lies at %d degrees on its panel", at.TurnDeg)
	}
}

func marshal(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestBoardTooThin: a board of 12 mm makes no layer of 16 mm; the sentence names it and both ways out. One of 20.5 mm is planed
// by 2.25 mm on each face.
func TestBoardTooThin(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := blockSettings(t)
	st := block(t, s)
	s.Mix = "2:birch-12-9"
	f, err := job.Settle(context.Background(), st, s, c)
	want := "Layer 2: Birch 12 mm, 9-ply measures 12 mm and can't be planed to a layer of 16 mm: give that layer a thicker board, or skim the others more so that layers are 12 mm or less."
	if err != nil || f.Withheld.String() != want {
		t.Errorf("withheld: %q, want %q (%v)", f.Withheld, want, err)
	}
	s.Mix = "2:birch-21-15"
	if f = settle(t, st, s, c); math.Abs(f.Layers[1].Skim-2.25) > 1e-9 {
		t.Errorf("skim %g, want 2.25", f.Layers[1].Skim)
	}
	sum := 0.0
	for _, v := range f.Layers[1].Veneers {
		sum += v.Thickness
	}
	near(t, "veneers left", sum, 16, 1e-9)
}

// TestMixIsKept: a job holds the mix and the prices in words; a hand that wrote them otherwise is understood.
func TestMixIsKept(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Mix, s.Shop.Prices = "5:walnut-18-13+turn, 9:turn", "walnut-18-13:145.5"
	path := filepath.Join(t.TempDir(), "a.grainstack")
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s}).Save(path, false); err != nil {
		t.Fatal(err)
	}
	j, err := jobfile.Open(context.Background(), path, "", c, nil)
	if got := j.Settings; err != nil || got != s {
		t.Errorf("got %q and %q: %v", got.Mix, got.Shop.Prices, err)
	}
	var m struct{ Mix job.Mix }
	if err := json.Unmarshal([]byte(`{"Mix": "9:turn,5:turn"}`), &m); err != nil || m.Mix != "5:turn, 9:turn" {
		t.Errorf("got %q: %v", m.Mix, err)
	}
	if err := json.Unmarshal([]byte(`{"Mix": "nonsense"}`), &m); err == nil {
		t.Error("nonsense is taken")
	}
}

func TestPrices(t *testing.T) {
	p, err := job.ParsePrices(" walnut-18-13 : 145.50, beech-18-13:90")
	if err != nil || p != "beech-18-13:90, walnut-18-13:145.5" {
		t.Fatalf("got %q: %v", p, err)
	}
	if v, ok := p.Of("walnut-18-13"); !ok || v != 145.5 {
		t.Errorf("walnut costs %g, %v", v, ok)
	}
	if _, ok := p.Of("mdf-18"); ok {
		t.Error("a price for a board without one")
	}
	for _, text := range []string{"a", "a:-1", "a:NaN", "a:1e10", ":5", "a:1, a:2", "a b:1"} {
		if _, err := job.ParsePrices(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
	if _, err := job.Default(stocktest.Catalogue(t)).WithPrices("oak:1", stocktest.Catalogue(t)); err == nil {
		t.Error("a price for a board that the catalogue lacks")
	}
}
