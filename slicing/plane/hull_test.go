package plane

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"grainstack/slicing/geom"
)

// TestHull: no point lies outside, every corner is one of the points and turns left; the order of the points does not matter.
func TestHull(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 200 {
		points := make([]geom.Vec2, 3+rnd.IntN(30))
		for i := range points {
			points[i] = geom.Vec2{X: float64(rnd.IntN(9)), Y: float64(rnd.IntN(9))} // many are double and in one line
		}
		before := slices.Clone(points)
		h := Hull(points)
		if !slices.Equal(points, before) {
			t.Fatal("the points have changed places")
		}
		for i, a := range h {
			b, c := h[(i+1)%len(h)], h[(i+2)%len(h)]
			if !slices.Contains(points, a) || !(side(a, b, c) > 0) {
				t.Fatalf("%v of %v: corner %d", h, points, i)
			}
			for _, p := range points {
				if side(a, b, p) < 0 {
					t.Fatalf("%v lies outside %v", p, h)
				}
			}
		}
		rnd.Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
		if again := Hull(points); !slices.Equal(again, h) {
			t.Fatalf("got %v of the same points in another order, want %v", again, h)
		}
	}
}

func TestHullWithoutArea(t *testing.T) {
	for _, tt := range []struct {
		why    string
		points []geom.Vec2
	}{
		{"no points", nil},
		{"one", []geom.Vec2{{X: 3, Y: 4}}},
		{"one, twice", []geom.Vec2{{X: 3, Y: 4}, {X: 3, Y: 4}}},
		{"two", []geom.Vec2{{X: 3, Y: 4}, {X: 1, Y: 2}}},
		{"in one line", []geom.Vec2{{}, {X: 2, Y: 2}, {X: 1, Y: 1}, {X: 3, Y: 3}}},
		{"in one upright line", []geom.Vec2{{Y: 2}, {Y: 1}, {}}},
	} {
		if h := Hull(tt.points); h != nil {
			t.Errorf("%s: got %v", tt.why, h)
		}
	}
}

// TestApart: against many places along the way; the same the other way round.
func TestApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 2))
	some := func() geom.Vec2 { return geom.Vec2{X: float64(rnd.IntN(7)), Y: float64(rnd.IntN(7))} }
	for range 300 {
		a, b, p := some(), some(), some()
		want := math.Inf(1)
		const n = 5040 // whole shares for every small way
		for i := range n + 1 {
			want = min(want, p.Sub(a.Add(b.Sub(a).Scale(float64(i)/n))).Len())
		}
		got, back := Apart(p, a, b), Apart(p, b, a)
		if got > want+1e-12 || got < want-1e-3 || math.Abs(got-back) > 1e-12 {
			t.Errorf("%v from %v to %v: got %g, back %g, want %g", p, a, b, got, back, want)
		}
	}
}
