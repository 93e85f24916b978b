package hours_test

import (
	"context"
	"maps"
	"math"
	"slices"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/solidtest"
)

// The estimate by integrals against the paths laid out, over pieces of all kinds, solid and hollow: 15 % at the most, for the
// rough and the finish pass alone as for both. Nothing is scaled by what was simulated before.
func TestEstimateAgainstSimulation(t *testing.T) {
	_, setup := first(t)
	step := 0.5
	if testing.Short() {
		step = 1
	}
	all := solids()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		m := all[name]()
		for _, wall := range []float64{0, 25} {
			p := cut(t, m, wall, step, setup)
			times, err := hours.SimulateAll(context.Background(), p.grounds, setup)
			if err != nil {
				t.Fatal(err)
			}
			var est, sim hours.SideTime
			for i := range p.layers {
				est = plus(est, total(hours.Estimate(p.layers[i], setup)))
				sim = plus(sim, plus(times[2*i], times[2*i+1]))
			}
			off, _ := hours.Off(est, sim)
			rough, finish := est.RoughMin/sim.RoughMin-1, est.FinishMin/sim.FinishMin-1
			t.Logf("%-9s wall %2.0f: rough %4.0f against %4.0f min (%+.1f %%), finish %4.0f against %4.0f min (%+.1f %%), all %+.1f %%; %.0f against %.0f m, %d lifts",
				name, wall, est.RoughMin, sim.RoughMin, rough*100, est.FinishMin, sim.FinishMin, finish*100, off*100,
				est.RoughMetres+est.FinishMetres, sim.RoughMetres+sim.FinishMetres, sim.Retracts)
			if most := max(math.Abs(rough), math.Abs(finish), math.Abs(off)); !(most <= 0.15) {
				t.Errorf("%s, wall %.0f: the estimate is %.1f %% off", name, wall, most*100)
			}
		}
	}
}

// The same on the other machines, and with rows across the grain, coarser and finer.
func TestEstimateElsewhere(t *testing.T) {
	body := solidtest.Ellipsoid(120, 90, 60, 20_000)
	for _, tt := range []struct {
		name    string
		machine string
		change  func(*hours.Setup)
	}{
		{"small router", "small", func(*hours.Setup) {}},
		{"large router", "large", func(*hours.Setup) {}},
		{"fine rows across the grain", "middle", func(s *hours.Setup) { s.Finish.Stepover, s.AcrossGrain = 0.2, true }},
		{"coarse", "middle", func(s *hours.Setup) { s.Finish.Stepover, s.Rough.Stepdown, s.Rough.Stepover = 0.8, 2, 1.6 }},
		{"flat finishing cutter", "middle", func(s *hours.Setup) {
			over := s.Finish.Stepover
			s.Finish = s.Rough
			s.Finish.Stepover = over
		}},
		{"wide berth", "middle", func(s *hours.Setup) { s.Clearance = 8 }},
	} {
		setup := on(t, tt.machine)
		tt.change(&setup)
		p := cut(t, body, 0, 0.5, setup)
		times, err := hours.SimulateAll(context.Background(), p.grounds, setup)
		if err != nil {
			t.Fatal(err)
		}
		var est, sim hours.SideTime
		for i := range p.layers {
			est = plus(est, total(hours.Estimate(p.layers[i], setup)))
			sim = plus(sim, plus(times[2*i], times[2*i+1]))
		}
		off, _ := hours.Off(est, sim)
		t.Logf("%s: rough %.0f against %.0f, finish %.0f against %.0f min: %+.1f %%", tt.name, est.RoughMin, sim.RoughMin, est.FinishMin, sim.FinishMin, off*100)
		if !(math.Abs(off) <= 0.15) {
			t.Errorf("%s: the estimate is %.1f %% off", tt.name, off*100)
		}
	}
}
