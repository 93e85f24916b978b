package hours_test

import (
	"context"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/solidtest"
)

func TestConv(t *testing.T) {
	_, setup := first(t)
	for _, wall := range []float64{0, 25} {
		for _, step := range []float64{1, 0.5, 0.25, 0.125} {
			p := cut(t, solidtest.Sphere(60, 80000), wall, step, setup)
			times, _ := hours.SimulateAll(context.Background(), p.grounds, setup)
			var sim, est hours.SideTime
			for i, s := range times {
				sim = plus(sim, s)
				if i%2 == 0 {
					est = plus(est, hours.Estimate(p.layers[i/2], setup).Total())
				}
			}
			t.Logf("wall %g step %g: %+v est %+v", wall, step, sim, est)
			t.Logf("%+v", times[2:6])
		}
	}
}
