package job_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestMinutesComeBack: what was entered is read again; no file is no minutes; a broken one is told.
func TestMinutesComeBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "minutes.json")
	if all, err := job.LoadRecords(path); err != nil || all != nil {
		t.Errorf("no file: %v, %v", all, err)
	}
	want := []hours.Record{{Machine: "middle", Layer: 3, Reckoned: 120, Took: 150}, {Machine: "middle", Layer: 3, Down: true, Reckoned: 80, Took: 100}}
	if err := job.SaveRecords(path, want); err != nil {
		t.Fatal(err)
	}
	if got, err := job.LoadRecords(path); err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	if err := os.WriteFile(path, []byte("[{\"took_min\": -3}]"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := job.LoadRecords(path); err == nil {
		t.Error("a side that took -3 minutes is believed")
	}
}

// TestMinutesAreLearned: a machine that took a quarter longer makes the next estimate a quarter longer, side by side and in
// all; the figures it was made from stay.
func TestMinutesAreLearned(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := standing(t, solidtest.Sphere(60, 20_000), s)
	f := settle(t, st, s, c)
	was := f.Totals.RouterMin()
	k := hours.Learn([]hours.Record{{Machine: s.Machine, Layer: 1, Reckoned: 100, Took: 125}, {Machine: s.Machine, Layer: 2, Reckoned: 40, Took: 50}}, s.Machine)
	g := f.Learned(k)
	near(t, "learned", g.Totals.RouterMin(), 1.25*was, 1e-9)
	near(t, "untouched", f.Totals.RouterMin(), was, 0)
	near(t, "learned of another machine", f.Learned(hours.Learn(nil, s.Machine)).Totals.RouterMin(), was, 0)
}

// TestSimulationGoesOnto the figures that it is for, and onto no others.
func TestSimulationGoesOnto(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := standing(t, solidtest.Sphere(60, 20_000), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	g := r.Onto(f)
	near(t, "simulated", g.Totals.RouterMin(), r.RouterMin(), 1e-9)
	sum := 0.0
	for _, l := range g.Layers {
		sum += l.Minutes.Rough() + l.Minutes.Fine()
	}
	near(t, "layers together", sum, r.RouterMin(), 1e-9)
	near(t, "tied estimate", f.Tied(r.Tie).Totals.RouterMin(), r.RouterMin(), 1e-6)
	other := *f
	other.For.Wall = 3
	if r.Onto(&other).Simulated {
		t.Error("a simulation is put onto figures of other settings")
	}
}
