package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestFacetLines: a line through a closed body on a grid that its corners and sides lie on goes in and out once each, and in
// between lies the body: a pyramid over a square, whose height over a place is known.
func TestFacetLines(t *testing.T) {
	const half = 6
	base := [4]Vec{{-half, -half, 0}, {half, -half, 0}, {half, half, 0}, {-half, half, 0}}
	shift := Vec{10, 10, 3}
	top := Vec{0, 0, half}
	facets := []Facet{{base[0], base[2], base[1]}, {base[0], base[3], base[2]}}
	for k := range 4 {
		facets = append(facets, Facet{base[k], base[(k+1)%4], top})
	}
	const n = 20
	var in, out [n][n]int
	var length [n][n]float64
	for _, f := range facets {
		for k := range f {
			f[k] = f[k].Add(shift)
		}
		for j, end := f.Rows(); j < end; j++ {
			s := f.Row(j, n)
			for i := s.First; i < s.End; i++ {
				if s.Enters {
					in[j][i]++
					length[j][i] -= s.Z(i)
				} else {
					out[j][i]++
					length[j][i] += s.Z(i)
				}
			}
		}
	}
	for j := range n {
		for i := range n {
			x, y := float64(i)-shift.X, float64(j)-shift.Y
			want := 0 // left and lower sides belong to the body, right and upper ones do not
			if x >= -half && x < half && y >= -half && y < half {
				want = 1
			}
			if in[j][i] != want || out[j][i] != want {
				t.Errorf("line %d, %d goes in %d times and out %d times, want %d", i, j, in[j][i], out[j][i], want)
			}
			if high := half - max(math.Abs(x), math.Abs(y)); want == 1 && math.Abs(length[j][i]-high) > 1e-12 {
				t.Errorf("line %d, %d is %g in it, want %g", i, j, length[j][i], high)
			}
		}
	}
}

// TestFacetCut: a triangle cut in two along any line has each of its lines in exactly one of the two, and the other way round
// they go the other way.
func TestFacetCut(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 9))
	const n = 9
	count := func(f Facet) (c [n][n]int) {
		for j, end := f.Rows(); j < end; j++ {
			s := f.Row(j, n)
			for i := s.First; i < s.End; i++ {
				if c[j][i]--; s.Enters {
					c[j][i] += 2
				}
			}
		}
		return c
	}
	some := func() Vec { return Vec{float64(rnd.IntN(n)), float64(rnd.IntN(n)), rnd.Float64()} }
	for range 500 {
		a, b, c := some(), some(), some()
		m := b.Add(c).Scale(0.5) // exact: on the side, and often on a row or a line
		whole, one, two := count(Facet{a, b, c}), count(Facet{a, b, m}), count(Facet{a, m, c})
		back := count(Facet{a, c, b})
		for j := range n {
			for i := range n {
				if whole[j][i] != one[j][i]+two[j][i] || whole[j][i] != -back[j][i] {
					t.Fatalf("%v %v %v at %d, %d: whole %d, halves %d and %d, turned over %d", a, b, c, i, j, whole[j][i], one[j][i], two[j][i], back[j][i])
				}
			}
		}
	}
}
