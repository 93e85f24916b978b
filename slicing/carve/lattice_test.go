package carve_test

import (
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
)

// TestStepFor: a piece as large as most is settled on half-millimetre columns; for larger ones and thinner layers columns move
// apart, so that their number, and with it the memory, stays within bounds, and never closer than they have to be.
func TestStepFor(t *testing.T) {
	const most = 1 << 25
	for _, c := range []struct {
		x, y, z, layer float64
	}{{400, 300, 250, 16}, {420, 210, 300, 16}, {420, 210, 300, 1}, {2100, 1050, 1500, 16}, {3000, 3000, 3000, 16}, {1, 1, 1, 16}} {
		box := geom.Box{Max: geom.Vec{X: c.x, Y: c.y, Z: c.z}}
		n := int(c.z/c.layer) + 1
		cells := func(step float64) float64 { return c.x * c.y * float64(n) / (step * step) }
		step := carve.StepFor(box, n)
		if got := cells(step); got > most {
			t.Errorf("%v: %g columns every %g mm, more than %d", c, got, step, most)
		}
		if step < carve.DefaultStep || step > carve.DefaultStep && cells(step-0.11) <= most {
			t.Errorf("%v: columns every %g mm, farther apart than they have to be", c, step)
		}
	}
	if step := carve.StepFor(geom.Box{Max: geom.Vec{X: 400, Y: 300, Z: 250}}, 16); step != carve.DefaultStep {
		t.Errorf("a usual piece has columns every %g mm", step)
	}
}
