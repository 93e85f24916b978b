package compass

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
)

// TestEvenCovers: no place is further from a direction than it has to be with so many, and no two are much too near. The
// least radius with which n equal caps cover an area of 2π is that of the hexagonal covering, spacing/√3 (Fejes Tóth,
// Lagerungen in der Ebene, auf der Kugel und im Raum, 1953); half as much again is allowed.
func TestEvenCovers(t *testing.T) {
	for _, n := range []int{50, 300, 700} {
		all := even(n)
		least := math.Inf(1)
		for i, a := range all {
			if math.Abs(a.Len()-1) > 1e-12 || !(a.Z > 0) {
				t.Fatalf("%d: %v is no direction of the half sphere", n, a)
			}
			for _, b := range all[:i] {
				least = min(least, between(a, b))
			}
		}
		if least < 0.4*Spacing(n) {
			t.Errorf("%d: two directions are %.2f of the spacing apart", n, least/Spacing(n))
		}
		rnd := rand.New(rand.NewSource(1))
		worst := 0.0
		for range 4000 {
			d := geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
			gap := math.Inf(1)
			for _, a := range all {
				gap = min(gap, between(a, d))
			}
			worst = max(worst, gap)
		}
		if worst > 1.5*Spacing(n)/math.Sqrt(3) {
			t.Errorf("%d: a place is %.2f of the spacing from any direction", n, worst/Spacing(n))
		}
	}
}

// TestCoarseFirst: the first n of many cover the half sphere about as well as n even ones: greedy choice is at most twice as
// coarse as the best (Gonzalez 1985).
func TestCoarseFirst(t *testing.T) {
	all := even(300)
	for _, n := range []int{8, 20, 60} {
		first := coarseFirst(all, 1)[:n]
		worst := 0.0
		for _, d := range all {
			gap := math.Inf(1)
			for _, a := range first {
				gap = min(gap, between(a, d))
			}
			worst = max(worst, gap)
		}
		if worst > 2*1.5*Spacing(n)/math.Sqrt(3) {
			t.Errorf("the first %d leave %.2f of their spacing open", n, worst/Spacing(n))
		}
	}
	if got := coarseFirst(all, 3); len(got) != len(all) || got[0] != all[0] || got[1] != all[1] || got[2] != all[2] {
		t.Error("the directions to be kept do not come first")
	}
}

func TestAxis(t *testing.T) {
	for _, d := range []geom.Vec{{Z: 1}, {X: 1}, {X: -1}, {Y: -1}, {X: 0.6, Z: -0.8}, {X: -0.6, Y: -0.8}} {
		a := axis(d)
		if a != axis(d.Scale(-1)) || between(a, d) != 0 || a.Z < 0 {
			t.Errorf("the axis of %v is %v, of its opposite %v", d, a, axis(d.Scale(-1)))
		}
	}
}

func TestRound(t *testing.T) {
	d := geom.Vec{X: 1, Y: 2, Z: 3}.Unit()
	ring := round(d, 0.2)
	for i, r := range ring {
		near(t, "angle from the middle", between(r, d), 0.2, 1e-9)
		near(t, "angle to the next", between(r, ring[(i+1)%6]), 2*math.Asin(math.Sin(0.2)/2), 1e-9)
	}
}
