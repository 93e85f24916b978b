package mend

import (
	"context"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func survey(t *testing.T, m *mesh.Mesh) Findings {
	t.Helper()
	f, err := Survey(context.Background(), m, m.Adjacency(), true)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestSurveyFindsWhatWasBroken(t *testing.T) {
	sphere := solidtest.Sphere(50, 20000)
	top := geom.Vec{Z: 50}
	edge := sphere.Triangles[0]
	fin := &mesh.Mesh{Points: append(append([]mesh.Point{}, sphere.Points...), mesh.Point{90, 0, 0}),
		Triangles: append(append([]mesh.Triangle{}, sphere.Triangles...), mesh.Triangle{edge[0], edge[1], int32(len(sphere.Points))})}
	spiked := &mesh.Mesh{Points: append([]mesh.Point{}, sphere.Points...), Triangles: sphere.Triangles}
	tip := sphere.Triangles[777][0]
	spiked.Points[tip] = mesh.PointOf(spiked.Points[tip].Vec().Scale(1.3))
	var patch []int32
	for i := range sphere.Triangles {
		if a, _, _ := sphere.Corners(i); a.Sub(top).Len() < 8 {
			patch = append(patch, int32(i))
		}
	}
	twice := &mesh.Mesh{Points: sphere.Points, Triangles: append(append([]mesh.Triangle{}, sphere.Triangles...), sphere.Triangles[500])}
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		kind Kind
		at   geom.Vec
		near float64
		size float64 // 0: not checked
		tol  float64
	}{
		{"hole", holed(sphere, top, 10), Hole, geom.Vec{Z: 49}, 1, 1.25 * 2 * math.Pi * 10, 16}, // the rim runs zigzag along facets
		{"debris", solidtest.Join(sphere, solidtest.Moved(solidtest.Sphere(2, 2000), geom.Vec{X: 80})), Debris, geom.Vec{X: 80}, 0.1, ball(2), 0.3},
		{"inside out", solidtest.Flip(sphere), InsideOut, geom.Vec{}, 1, ball(50), 500},
		{"flipped", turnedOver(sphere, patch), FlippedArea, top, 4, math.Pi * 64, 30},
		{"spike", spiked, Spike, spiked.Points[tip].Vec(), 1e-4, 15, 1},
		{"fin", fin, Crowded, sphere.Points[edge[0]].Vec(), 3, 1, 0},
		{"double", twice, Duplicate, sphere.Points[sphere.Triangles[500][0]].Vec(), 2, 1, 0},
		{"crossing", solidtest.Join(sphere, solidtest.Moved(sphere, geom.Vec{X: 60})), Crossing, geom.Vec{X: 30}, 45, 0, 0},
	} {
		f := survey(t, tt.m)
		ok := false
		for _, x := range f.List {
			ok = ok || x.Kind == tt.kind && x.At.Sub(tt.at).Len() <= tt.near && (tt.size == 0 || math.Abs(x.Size-tt.size) <= tt.tol)
			if s := x.Sentence(1); !strings.HasSuffix(s, ".") || strings.Contains(s, "%!") {
				t.Errorf("%s: sentence %q", tt.name, s)
			}
		}
		if !ok || f.Counts[tt.kind] == 0 {
			t.Errorf("%s: not found: %v %v", tt.name, f.Counts, f.List)
		}
	}
}

func TestSurveyOfCleanSolids(t *testing.T) {
	for _, m := range []*mesh.Mesh{solidtest.Bumpy(100, 20000), solidtest.Box(1, 2, 3), solidtest.Frustum(40, 0, 60, 12),
		solidtest.Join(solidtest.Sphere(50, 5000), solidtest.Flip(solidtest.Sphere(40, 5000)))} {
		if f := survey(t, m); !f.clean() {
			t.Errorf("found %v in a clean solid: %v", f.Counts, f.List)
		}
	}
	f := survey(t, solidtest.Join(solidtest.Flip(solidtest.Sphere(40, 5000)), solidtest.Sphere(50, 5000)))
	if len(f.Shells) != 2 || !f.Shells[1].Cavity || f.Shells[0].Inward || math.Abs(f.Shells[1].Share-0.512) > 0.001 {
		t.Errorf("hollow ball: %+v", f.Shells)
	}
}
