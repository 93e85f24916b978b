package hours_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
)

// blocks are so many upright blocks of 40 x 30 mm side by side on one layer, apart mm from one to the next.
func blocks(t *testing.T, n int, apart float64, s hours.Setup) *hours.Ground {
	t.Helper()
	const step, a, b = 0.5, 40.0, 30.0
	w, h := int((float64(n)*(a+apart)-apart)/step), int(b/step)
	top, bottom := make([]float32, w*h), make([]float32, w*h)
	for i := range top {
		top[i] = thick
		if math.Mod(float64(i%w)*step, a+apart) >= a {
			top[i], bottom[i] = carve.NoWood, carve.NoWood
		}
	}
	up, _ := upright(t, carve.HeightMap{Step: step, W: w, H: h}, top, bottom, s, hours.Seat{Skim: skim})
	return up
}

// TestOnePartAfterTheOther: parts far from one another are each carved to the end before the next: the cutter goes from one to
// another once a pass, whatever the number of levels, and takes as long over each as over one alone.
func TestOnePartAfterTheOther(t *testing.T) {
	_, s := first(t)
	const n, apart = 3, 90.0
	g, alone := blocks(t, n, apart, s), blocks(t, 1, apart, s)
	if levels := len(g.Levels(s)); levels < 3 {
		t.Fatalf("%d levels show nothing", levels)
	}
	for _, pass := range []hours.Op{hours.Rough, hours.Finish} {
		far, at := 0, geom.Vec{}
		trip, err := hours.Trace(context.Background(), g, s, pass, geom.Vec2{}, func(to geom.Vec, feed float64) {
			if feed == 0 && math.Abs(to.X-at.X) > 0.8*apart {
				far++
			}
			at = to
		})
		if err != nil {
			t.Fatal(err)
		}
		if far != n-1 {
			t.Errorf("%v: from part to part %d times, want %d", pass, far, n-1)
		}
		one, err := hours.Trace(context.Background(), alone, s, pass, geom.Vec2{}, func(geom.Vec, float64) {})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(trip.Metres-n*one.Metres) > 0.02*trip.Metres {
			t.Errorf("%v: %.2f m for %d parts, %.2f m for one", pass, trip.Metres, n, one.Metres)
		}
		if most := n*one.RapidMetres + 2*n*(apart+40)/1000; trip.RapidMetres > most {
			t.Errorf("%v: %.2f m in the air, want %.2f at the most", pass, trip.RapidMetres, most)
		}
	}
}
