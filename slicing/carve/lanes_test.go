package carve

import (
	"math/rand"
	"testing"
)

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
