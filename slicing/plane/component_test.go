package plane

import (
	"math/rand/v2"
	"testing"

	"grainstack/slicing/sets"
)

// TestComponents compares with disjoint sets of places that touch.
func TestComponents(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 1))
	for range 100 {
		w, h := 1+rnd.IntN(150), 1+rnd.IntN(6) // some wider than a word of a mask
		in := make([]bool, w*h)
		for i := range in {
			in[i] = rnd.IntN(3) == 0
		}
		s := sets.New(w * h)
		for a := range in {
			for b := range in {
				if dx, dy := a%w-b%w, a/w-b/w; in[a] && in[b] && dx*dx <= 1 && dy*dy <= 1 {
					s.Join(int32(a), int32(b))
				}
			}
		}
		labels, n := Components(w, h, func(i int) bool { return in[i] })
		next := int32(0)
		for i, l := range labels {
			switch {
			case !in[i] && l != 0:
				t.Fatalf("place %d is out and has label %d", i, l)
			case in[i] && s.Find(int32(i)) == int32(i):
				if next++; l != next {
					t.Fatalf("place %d is the first of its part and has label %d, want %d", i, l, next)
				}
			case in[i] && l != labels[s.Find(int32(i))]:
				t.Fatalf("place %d has label %d, its part %d", i, l, labels[s.Find(int32(i))])
			}
		}
		if int(next) != n {
			t.Errorf("%d parts, want %d", n, next)
		}
	}
}
