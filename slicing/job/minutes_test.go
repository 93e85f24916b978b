package job_test

import (
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

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
