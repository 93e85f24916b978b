package cloud

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// TestTreeAgainstLookingAtAll: nearest, around and closest against every point looked at, points that lie together included.
func TestTreeAgainstLookingAtAll(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for _, n := range []int{0, 1, 8, 9, 17, 500, 3000} {
		points := make([]mesh.Point, n)
		for i := range points {
			points[i] = mesh.Point{float32(rnd.Intn(20)), float32(rnd.NormFloat64()), float32(rnd.Intn(3))}
		}
		tree := NewTree(points)
		for range 200 {
			p := geom.Vec{X: 20 * rnd.Float64(), Y: rnd.NormFloat64(), Z: 3 * rnd.Float64()}
			r := 3 * rnd.Float64()
			var d []float64
			var near []int32
			for i, q := range points {
				w := q.Vec().Sub(p)
				d = append(d, w.Dot(w))
				if w.Dot(w) <= r*r {
					near = append(near, int32(i))
				}
			}
			slices.Sort(d)
			at, d2 := tree.Nearest(p, r)
			if (at >= 0) != (len(d) > 0 && d[0] < r*r) || at >= 0 && math.Abs(d2-d[0]) > 1e-12 {
				t.Fatalf("%d points: nearest %d at %g, want %v", n, at, d2, d)
			}
			got := tree.Around(p, r, nil)
			slices.Sort(got)
			if !slices.Equal(got, near) {
				t.Fatalf("%d points: around %v, want %v", n, got, near)
			}
			for i, c := range tree.closest(p, 7, nil) {
				if math.Abs(c.D2-d[i]) > 1e-12 {
					t.Fatalf("%d points: closest %d at %g, want %g", n, i, c.D2, d[i])
				}
			}
			if got, want := len(tree.closest(p, 7, nil)), min(7, n); got != want {
				t.Fatalf("%d closest, want %d", got, want)
			}
		}
	}
}
