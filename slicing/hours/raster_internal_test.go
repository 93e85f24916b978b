package hours

import (
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/plane"
)

// scatter is a mask with a share of its places set.
func scatter(rnd *rand.Rand, w, h int, share float64) *plane.Mask {
	var s plane.Mask
	s.Reset(w, h)
	for j := range h {
		for i := range w {
			if rnd.Float64() < share {
				s.Set(i, j)
			}
		}
	}
	return &s
}

// Every run is gone over once, whatever the region, and a convex one without lifting.
func TestChains(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 9))
	for round := range 30 {
		s := scatter(rnd, 90, 60, 0.05+0.9*rnd.Float64())
		if round == 0 {
			s.Reset(90, 60)
			for j := range 60 {
				for i := range 90 {
					if math.Hypot(float64(i-45), float64(j-30)) < 28 {
						s.Set(i, j)
					}
				}
			}
		}
		var c chains
		for j := range s.H {
			c.runs = s.Runs(c.runs, j, j)
		}
		c.build()
		seen := map[plane.Run]int{}
		lifts := 0
		c.order(func() (x, y float64) { return 0, 0 }, 1, func(at start) {
			lifts++
			before := plane.Run{Row: -9}
			for _, r := range c.along(nil, at) {
				seen[r]++
				if before.Row >= 0 && (max(r.Row-before.Row, before.Row-r.Row) != 1 || r.From > before.To || before.From > r.To) {
					t.Fatalf("%v follows %v", r, before)
				}
				before = r
			}
		})
		for _, r := range c.runs {
			if seen[r] != 1 {
				t.Fatalf("%v is gone over %d times", r, seen[r])
			}
		}
		if round == 0 && lifts != 1 {
			t.Errorf("a disc takes %d chains", lifts)
		}
	}
}
