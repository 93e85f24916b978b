package mend

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/solidtest"
)

// slowWinding is the definition: the sum of solid angles over 4π (van Oosterom and Strackee, IEEE Trans. Biomed. Eng.
// BME-30(2), 1983).
func slowWinding(m *mesh.Mesh, p geom.Vec) float64 {
	sum := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		sum += 2 * math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum / (4 * math.Pi)
}

// opened is m without the facets whose middle lies below z.
func opened(m *mesh.Mesh, z float64) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points}
	for i, t := range m.Triangles {
		if a, b, c := m.Corners(i); a.Z+b.Z+c.Z >= 3*z {
			out.Triangles = append(out.Triangles, t)
		}
	}
	return out
}

func newTestTree(t testing.TB, m *mesh.Mesh) *windingTree {
	tree, err := newWindingTree(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

func TestWindingIsTheSumOfSolidAngles(t *testing.T) {
	bumpy := solidtest.Bumpy(100, 20000)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
	}{
		{"closed", bumpy},
		{"shuffled", solidtest.Shuffle(bumpy, 3)},
		{"open below", opened(bumpy, -60)},
		{"two overlapping", solidtest.Join(bumpy, solidtest.Moved(bumpy, geom.Vec{X: 40}))},
		{"box", solidtest.Box(80, 90, 100)},
		{"sphere turned in", solidtest.Flip(solidtest.Sphere(90, 5000))},
		{"far away", solidtest.Moved(solidtest.Sphere(1, 3000), geom.Vec{X: 300, Y: 200})},
	} {
		tree := newTestTree(t, tt.m)
		rnd := rand.New(rand.NewSource(1))
		box := tt.m.Box()
		size := box.Size()
		worst, mean := 0.0, 0.0
		const n, windingError = 600, 0.005
		for i := range n {
			p := box.Min.Add(geom.Vec{X: size.X * (1.4*rnd.Float64() - 0.2), Y: size.Y * (1.4*rnd.Float64() - 0.2), Z: size.Z * (1.4*rnd.Float64() - 0.2)})
			if i%2 == 0 { // as many close to the surface
				p = tt.m.Points[rnd.Intn(len(tt.m.Points))].Vec().Add(geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Scale(size.X / 100))
			}
			d := math.Abs(tree.winding(p) - slowWinding(tt.m, p))
			worst, mean = max(worst, d), mean+d/n
		}
		t.Logf("%s: largest error %.5f, mean %.6f", tt.name, worst, mean)
		if worst > windingError {
			t.Errorf("%s: off by %.5f, want at most %.5f", tt.name, worst, windingError)
		}
	}
}

func TestWindingOfAnOpenCubeIsHalfAtItsMouth(t *testing.T) {
	// Seen from the middle of the missing face the other five fill half of all directions (Jacobson and others 2013).
	m := solidtest.Box(1, 1, 1)
	var kept []mesh.Triangle
	for i, tri := range m.Triangles {
		if a, b, c := m.Corners(i); a.Z+b.Z+c.Z < 2.9 {
			kept = append(kept, tri)
		}
	}
	tree := newTestTree(t, &mesh.Mesh{Points: m.Points, Triangles: kept})
	if got := tree.winding(geom.Vec{X: 0.5, Y: 0.5, Z: 1}); math.Abs(got-0.5) > 1e-6 {
		t.Errorf("winding %v, want 0.5", got)
	}
}

func BenchmarkWinding(b *testing.B) {
	m := solidtest.Bumpy(100, 1_000_000)
	tree := newTestTree(b, m)
	box := m.Box()
	size := box.Size()
	const n = 1_000_000
	rnd := rand.New(rand.NewSource(1))
	points := make([]geom.Vec, n)
	for i := range points {
		points[i] = box.Min.Add(geom.Vec{X: size.X * rnd.Float64(), Y: size.Y * rnd.Float64(), Z: size.Z * rnd.Float64()})
	}
	out := make([]float64, n)
	for b.Loop() {
		_ = par.Spans(context.Background(), n, 4096, func(from, to int) {
			for i := from; i < to; i++ {
				out[i] = tree.winding(points[i])
			}
		})
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds(), "queries/s")
}

func BenchmarkTree(b *testing.B) {
	m := solidtest.Bumpy(100, 1_000_000)
	for b.Loop() {
		newTestTree(b, m)
	}
}
