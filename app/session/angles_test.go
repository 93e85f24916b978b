package session

import (
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
)

func TestTypedAnglesStay(t *testing.T) {
	for _, tt := range []struct{ before, typed [3]float64 }{
		{[3]float64{0, 0, 0}, [3]float64{0, 120, 0}},
		{[3]float64{10, 80, 20}, [3]float64{10, 90, 20}},
		{[3]float64{10, 90, 20}, [3]float64{10, 100, 20}},
		{[3]float64{0, 0, 0}, [3]float64{180, 0, 0}},
		{[3]float64{10, 95, 20}, [3]float64{10, 95, -150}},
		{[3]float64{5, -85, 7}, [3]float64{5, -90, 7}},
	} {
		got := near(geom.TurnXYZ(tt.typed[0], tt.typed[1], tt.typed[2]), tt.before)
		for i := range got {
			if d := within(got[i] - tt.typed[i]); d > 1e-5 || d < -1e-5 {
				t.Errorf("from %v typed %v: shown as %v", tt.before, tt.typed, got)
				break
			}
		}
	}
}

// Whatever stood there before, the angles make the turn that is shown.
func TestAnglesMakeTheTurn(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	angle := func() float64 { return float64(r.IntN(25)-12) * 15 }
	for range 2000 {
		turn := geom.TurnXYZ(angle(), angle(), angle())
		got := near(turn, [3]float64{angle(), angle(), angle()})
		if !closeTo(geom.TurnXYZ(got[0], got[1], got[2]), turn) {
			t.Fatalf("%v: angles %v make another turn", turn, got)
		}
	}
}
