package hours_test

import (
	"context"
	"flag"
	"maps"
	"slices"
	"testing"
	"time"

	"grainstack/slicing/hours"
)

// The estimate by integrals against the paths laid out, over pieces of all kinds: within 15 %.
func TestEstimateAgainstSimulation(t *testing.T) {
	_, setup := first(t)
	all := solids()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for _, wall := range []float64{0, 25} {
			p := cut(t, all[name](), wall, 0.5, setup)
			var est, sim hours.SideTime
			for i, l := range p.layers {
				e := hours.Estimate(l, setup)
				est = plus(est, e.Total())
				if testing.Verbose() && *perLayer {
					t.Logf("  %d: %+v", i, l)
				}
			}
			began := time.Now()
			times, err := hours.SimulateAll(context.Background(), p.grounds, setup)
			if err != nil {
				t.Fatal(err)
			}
			took := time.Since(began)
			for i, s := range times {
				sim = plus(sim, s)
				if *perLayer {
					e := hours.Estimate(p.layers[i/2], setup)
					side := e.Up
					if i%2 == 1 {
						side = e.Down
					}
					t.Logf("   %2d %d: rough est %5.1f sim %5.1f min (%5.0f %5.0f m)  fine est %5.1f sim %5.1f (%5.0f %5.0f m) lifts %d", i/2+1, i%2,
						side.RoughMin, s.RoughMin, side.RoughMetres, s.RoughMetres, side.FinishMin, s.FinishMin, side.FinishMetres, s.FinishMetres, s.Retracts)
				}
			}
			t.Logf("%-9s wall %2.0f: rough %5.0f / %5.0f min (%+.1f %%), finish %5.0f / %5.0f min (%+.1f %%), all %+.1f %%; m %5.0f/%5.0f %5.0f/%5.0f, %d lifts, %v",
				name, wall, est.RoughMin, sim.RoughMin, (est.RoughMin/sim.RoughMin-1)*100, est.FinishMin, sim.FinishMin,
				(est.FinishMin/sim.FinishMin-1)*100, (est.Minutes()/sim.Minutes()-1)*100, est.RoughMetres, sim.RoughMetres, est.FinishMetres, sim.FinishMetres, sim.Retracts, took.Round(time.Millisecond))
		}
	}
}

var perLayer = flag.Bool("layers", false, "say each layer")
