package solidtest_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// Every solid is closed, faces outward and is welded: no two points at one place.
func TestSolidsAreSolid(t *testing.T) {
	for _, tt := range []struct {
		name   string
		m      *mesh.Mesh
		shells int
		euler  int // points - edges + triangles: 2 for a ball, 0 for a ring
	}{
		{"box", solidtest.Box(1, 2, 3), 1, 2},
		{"sphere", solidtest.Sphere(5, 5000), 1, 2},
		{"smallest sphere", solidtest.Sphere(5, 1), 1, 2},
		{"ellipsoid", solidtest.Ellipsoid(1, 2, 3, 500), 1, 2},
		{"torus", solidtest.Torus(5, 2, 30, 17), 1, 0},
		{"frustum", solidtest.Frustum(5, 2, 3, 9), 1, 2},
		{"cone", solidtest.Frustum(5, 0, 3, 9), 1, 2},
		{"cone on its tip", solidtest.Frustum(0, 5, 3, 9), 1, 2},
		{"bumpy", solidtest.Bumpy(100, 30_000), 1, 2},
		{"shuffled", solidtest.Shuffle(solidtest.Bumpy(100, 3000), 1), 1, 2},
		{"moved", solidtest.Moved(solidtest.Box(1, 1, 1), geom.Vec{X: 4}), 1, 2},
		{"turned", solidtest.Turned(solidtest.Box(1, 1, 1), geom.TurnXYZ(10, 20, 30)), 1, 2},
		{"mirrored and flipped", solidtest.Flip(solidtest.Stretch(solidtest.Torus(5, 2, 12, 8), -1, 2, 1)), 1, 0},
		{"joined", solidtest.Join(solidtest.Box(1, 1, 1), solidtest.Moved(solidtest.Box(1, 1, 1), geom.Vec{X: 4})), 2, 4},
	} {
		f := mesh.Inspect(tt.m, tt.m.Adjacency())
		if !f.Solid() || f.Shells != tt.shells || f.ZeroArea != 0 {
			t.Errorf("%s: %+v", tt.name, f)
		}
		if got := f.Points - f.Triangles/2; got != tt.euler {
			t.Errorf("%s: Euler number %d, want %d", tt.name, got, tt.euler)
		}
		places := map[mesh.Point]bool{}
		for _, p := range tt.m.Points {
			places[p] = true
		}
		if len(places) != len(tt.m.Points) {
			t.Errorf("%s: %d points at %d places", tt.name, len(tt.m.Points), len(places))
		}
	}
}

func TestBumpyIsWhatItSays(t *testing.T) {
	m := solidtest.Bumpy(100, 1_000_000)
	if n := len(m.Triangles); n < 990_000 || n > 1_010_000 {
		t.Errorf("%d triangles", n)
	}
	far, hollows, undercuts := 0.0, 0, 0
	for _, p := range m.Points {
		far = math.Max(far, p.Vec().Len())
	}
	adj := m.Adjacency()
	for h, twin := range adj {
		a, b, c := m.Corners(h / 3)
		n := b.Sub(a).Cross(c.Sub(a))
		apex := m.Points[m.Triangles[twin/3][(twin+2)%3]].Vec()
		if n.Dot(apex.Sub(a)) > 0 {
			hollows++
		}
		if h%3 == 0 && n.Z < 0 && a.Z > 0 {
			undercuts++
		}
	}
	if far > 200 || far < 100 {
		t.Errorf("reaches %v from the origin", far)
	}
	if hollows < len(adj)/10 || undercuts == 0 {
		t.Errorf("%d of %d edges are hollow, %d facets of the upper half face down", hollows, len(adj), undercuts)
	}
}
