package hours_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

// What coarser rows save against the paths laid out with them: 10 % of the finish pass at the most. The ridge is the handbook's
// h = R - √(R² - s²/4).
func TestCoarserRows(t *testing.T) {
	_, setup := first(t)
	setup.Finish.Stepover = 0.27
	fine := func(s hours.Setup) (minutes float64) {
		times, err := hours.SimulateAll(context.Background(), cut(t, solidtest.Sphere(60, 5_000), 0, 1, s).grounds, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range times {
			minutes += one.FinishMin
		}
		return minutes
	}
	before := fine(setup)
	k, ok := hours.Coarsen(setup.Finish, before)
	if r := setup.Finish.Diameter / 2; !ok || math.Abs(k.Cusp-(r-math.Sqrt(r*r-k.Stepover*k.Stepover/4))) > 1e-9 {
		t.Fatalf("%v %+v", ok, k)
	}
	setup.Finish.Stepover = k.Stepover
	if saved := before - fine(setup); !(math.Abs(saved-k.SavesMin) <= 0.1*before) {
		t.Errorf("saves %.1f of %.1f min, said %.1f", saved, before, k.SavesMin)
	}
	if _, ok := hours.Coarsen(setup.Finish, before); ok {
		t.Error("rows as coarse already")
	}
	setup.Finish.Shape, setup.Finish.Stepover = stock.Flat, 0.27
	if _, ok := hours.Coarsen(setup.Finish, before); ok {
		t.Error("a flat end")
	}
}
