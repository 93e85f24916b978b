package sets

import (
	"math/rand"
	"slices"
	"testing"
)

// TestJoin compares with painting: whoever is joined takes the lower one's colour. The order of joining does not matter.
func TestJoin(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range 200 {
		n := 1 + rnd.Intn(40)
		pairs := make([][2]int32, rnd.Intn(2*n))
		for i := range pairs {
			pairs[i] = [2]int32{int32(rnd.Intn(n)), int32(rnd.Intn(n))}
		}
		want := New(n)
		for _, p := range pairs {
			low, high := min(want[p[0]], want[p[1]]), max(want[p[0]], want[p[1]])
			for i, c := range want {
				if c == high {
					want[i] = low
				}
			}
		}
		for range 3 {
			got := New(n)
			for _, p := range pairs {
				got.Join(p[0], p[1])
			}
			for i := range got {
				if got.Find(int32(i)) != want[i] {
					t.Fatalf("%d of %v is in the set of %d, want %d", i, pairs, got.Find(int32(i)), want[i])
				}
			}
			if got.Flat(); !slices.Equal(got, want) {
				t.Fatalf("flat: got %v, want %v", got, want)
			}
			rnd.Shuffle(len(pairs), func(i, j int) { pairs[i], pairs[j] = [2]int32{pairs[j][1], pairs[j][0]}, pairs[i] })
		}
	}
}

func TestNoNumbers(t *testing.T) {
	s := New(0)
	if s.Flat(); len(s) != 0 {
		t.Errorf("got %v, want none", s)
	}
}

// TestSided: numbers have sides of their own, and pairs are told by them; then all agree, and one pair told wrongly does not.
func TestSided(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for range 200 {
		n := 2 + rnd.Intn(40)
		side := make([]bool, n)
		for i := range side {
			side[i] = rnd.Intn(2) == 0
		}
		plain, got := New(n), NewSided(n)
		for range rnd.Intn(2 * n) {
			i, j := int32(rnd.Intn(n)), int32(rnd.Intn(n))
			plain.Join(i, j)
			if !got.Join(i, j, side[i] != side[j]) {
				t.Fatalf("%d and %d disagree", i, j)
			}
			if got.Join(i, j, side[i] == side[j]) {
				t.Fatalf("%d and %d agree on a wrong side", i, j)
			}
		}
		plain.Flat()
		least, against := got.Flat()
		if !slices.Equal(least, plain) {
			t.Fatalf("got sets %v, want %v", least, plain)
		}
		for i, l := range least {
			if against[i] != (side[i] != side[l]) {
				t.Errorf("%d is against %d: got %v", i, l, against[i])
			}
		}
	}
}
