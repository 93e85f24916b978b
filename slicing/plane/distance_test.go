package plane

import (
	"math/rand/v2"
	"testing"
)

// TestDistances compares with looking at every other place.
func TestDistances(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 300 {
		w, h := 1+rnd.IntN(14), 1+rnd.IntN(14)
		out := make([]bool, w*h)
		few := 1 + rnd.IntN(20)
		for i := range out {
			out[i] = rnd.IntN(few) == 0
		}
		for _, rim := range []bool{false, true} {
			for i, got := range Distances(w, h, func(i int) bool { return out[i] }, rim) {
				if want := slowDistance(w, h, out, rim, i); got != want {
					t.Fatalf("%d x %d, rim %v: place %d is %d away, want %d", w, h, rim, i, got, want)
				}
			}
		}
	}
}

func slowDistance(w, h int, out []bool, rim bool, at int) int32 {
	best := int32(Endless)
	x, y := at%w, at/w
	for j := -1; j <= h; j++ {
		for i := -1; i <= w; i++ {
			beyond := i < 0 || j < 0 || i == w || j == h
			if beyond && rim || !beyond && out[j*w+i] {
				best = min(best, int32((i-x)*(i-x)+(j-y)*(j-y)))
			}
		}
	}
	return best
}

// TestDistancesFar: what is too far for its square to be told is endless, and not below nothing.
func TestDistancesFar(t *testing.T) {
	const w = 50_000
	d := Distances(w, 1, func(i int) bool { return i == 0 }, false)
	for _, tt := range []struct{ at, want int }{{0, 0}, {46_340, 46_340 * 46_340}, {46_341, Endless}, {w - 1, Endless}} {
		if got := d[tt.at]; got != int32(tt.want) {
			t.Errorf("place %d is %d away, want %d", tt.at, got, tt.want)
		}
	}
}

func TestDistancesNothing(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {0, 5}, {5, 0}} {
		if d := Distances(size[0], size[1], func(int) bool { return true }, true); len(d) != 0 {
			t.Errorf("%v has distances %v", size, d)
		}
	}
}

// BenchmarkDistances is a disc of 600 places across.
func BenchmarkDistances(b *testing.B) {
	const n = 700
	in := make([]bool, n*n)
	for i := range in {
		x, y := i%n-n/2, i/n-n/2
		in[i] = x*x+y*y < 300*300
	}
	for b.Loop() {
		Distances(n, n, func(i int) bool { return !in[i] }, true)
	}
}
