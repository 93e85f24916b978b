package carve

import (
	"math"
	"math/rand"
	"testing"
)

// TestDistances compares with looking at every other column.
func TestDistances(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for range 300 {
		m := HeightMap{Step: 0.5, W: 1 + rnd.Intn(14), H: 1 + rnd.Intn(14)}
		out := make([]bool, m.W*m.H)
		few := 1 + rnd.Intn(20)
		for i := range out {
			out[i] = rnd.Intn(few) == 0
		}
		for _, rim := range []bool{false, true} {
			got := m.distances(func(i int) bool { return out[i] }, rim)
			for i, g := range got {
				if want := slowDistance(&m, out, rim, i); g != float32(want) {
					t.Fatalf("%d x %d, rim %v: column %d is %g away, want %g", m.W, m.H, rim, i, g, want)
				}
			}
		}
	}
}

func slowDistance(m *HeightMap, out []bool, rim bool, at int) float64 {
	best := math.Inf(1)
	x, y := at%m.W, at/m.W
	for j := -1; j <= m.H; j++ {
		for i := -1; i <= m.W; i++ {
			beyond := i < 0 || j < 0 || i == m.W || j == m.H
			if beyond && rim || !beyond && out[j*m.W+i] {
				best = min(best, math.Sqrt(float64((i-x)*(i-x)+(j-y)*(j-y)))*m.Step)
			}
		}
	}
	return min(best, math.MaxFloat32)
}

// TestMaxLanes compares with four comparisons.
func TestMaxLanes(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	some := func() uint64 {
		v := uint64(0)
		for range lanes {
			v = v<<16 | []uint64{0, 1, laneMax, laneMax - 1, uint64(rnd.Intn(laneMax + 1))}[rnd.Intn(5)]
		}
		return v
	}
	for range 10000 {
		a, b := some(), some()
		want := uint64(0)
		for k := range lanes {
			want |= max(a>>(16*k)&0xffff, b>>(16*k)&0xffff) << (16 * k)
		}
		if got := maxLanes(a, b); got != want {
			t.Fatalf("max of %016x and %016x: got %016x, want %016x", a, b, got, want)
		}
	}
}
