package mesh_test

import (
	"reflect"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// weld is m as it comes back from a file.
func weld(t testing.TB, m *mesh.Mesh) *mesh.Mesh {
	t.Helper()
	out, _, err := read(binarySTL(t, m))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func without(m *mesh.Mesh, n int) *mesh.Mesh {
	return &mesh.Mesh{Points: m.Points, Triangles: m.Triangles[n:]}
}

// turnedOver is m with its first n triangles the other way round.
func turnedOver(m *mesh.Mesh, n int) *mesh.Mesh {
	part := solidtest.Flip(&mesh.Mesh{Points: m.Points, Triangles: m.Triangles[:n]})
	return &mesh.Mesh{Points: m.Points, Triangles: append(part.Triangles, m.Triangles[n:]...)}
}

func TestInspect(t *testing.T) {
	box := solidtest.Box(10, 10, 10)
	small := solidtest.Moved(solidtest.Box(4, 4, 4), geom.Vec{X: 3, Y: 3, Z: 3})
	far := solidtest.Moved(box, geom.Vec{X: 50})
	edge := solidtest.Moved(box, geom.Vec{X: 10, Y: 10}) // shares an upright edge with box
	twice := &mesh.Mesh{Points: box.Points, Triangles: append(append([]mesh.Triangle(nil), box.Triangles...), box.Triangles[0])}
	type counts struct{ shells, cavities, inward, open, holes, many, flipped int }
	for _, tt := range []struct {
		name   string
		m      *mesh.Mesh
		want   counts
		volume float64
		solid  bool
		says   string
	}{
		{"box", box, counts{shells: 1}, 1000, true, ""},
		{"ball", solidtest.Sphere(10, 1200), counts{shells: 1}, solidtest.Sphere(10, 1200).Volume(), true, ""},
		{"inside out", solidtest.Flip(box), counts{shells: 1, inward: 1}, -1000, false, "turned inside out"},
		{"two", solidtest.Join(box, far), counts{shells: 2}, 2000, true, ""},
		{"two, one inside out", solidtest.Join(box, solidtest.Flip(far)), counts{shells: 2, inward: 1}, 0, false, "One of its pieces is turned inside out"},
		{"hollow", solidtest.Join(box, solidtest.Flip(small)), counts{shells: 2, cavities: 1}, 936, true, ""},
		{"hollow, hollow listed first", solidtest.Join(solidtest.Flip(small), box), counts{shells: 2, cavities: 1}, 936, true, ""},
		{"one in the other", solidtest.Join(box, small), counts{shells: 2}, 1064, true, ""},
		{"hollow all inside out", solidtest.Join(solidtest.Flip(box), small), counts{shells: 2, inward: 1}, -936, false, "inside out"},
		{"beside, in its box, not in it", solidtest.Join(solidtest.Torus(40, 10, 90, 40), solidtest.Flip(solidtest.Moved(small, geom.Vec{X: -5, Y: -5, Z: -5}))),
			counts{shells: 2, inward: 1}, solidtest.Torus(40, 10, 90, 40).Volume() - 64, false, "inside out"},
		{"a triangle missing", without(box, 1), counts{shells: 1, open: 3, holes: 1}, 1000 - 1000.0/12, false, "has a hole; its edge runs 34 mm"},
		{"a side missing", without(box, 2), counts{shells: 1, open: 4, holes: 1}, 1000 - 1000.0/6, false, "its edge runs 40 mm"},
		{"two holes", solidtest.Join(without(box, 1), without(far, 2)), counts{shells: 2, open: 7, holes: 2}, 0, false, "has 2 holes; the longest edge runs 40 mm"},
		{"one turned over", turnedOver(box, 1), counts{shells: 1, flipped: 3}, 1000 - 1000.0/6, false, "At 3 edges, neighbouring facets face opposite sides"},
		{"touching along an edge", solidtest.Join(box, edge), counts{shells: 2, many: 1}, 2000, false, "more than two facets meet"},
		{"touching along an edge, inside out", solidtest.Flip(solidtest.Join(box, edge)), counts{shells: 1, inward: 1, many: 1}, -2000, false, "turned inside out"},
		{"two inside out", solidtest.Flip(solidtest.Join(box, far)), counts{shells: 2, inward: 2}, -2000, false, "2 of its pieces are turned inside out"},
		{"a facet twice", twice, counts{shells: 1, many: 3}, 0, false, "At 3 edges, more than two facets meet"},
	} {
		m := weld(t, tt.m)
		f := mesh.Inspect(m, m.Adjacency())
		got := counts{f.Shells, f.Cavities, f.InwardShells, f.OpenEdges, f.Holes, f.NonManifoldEdges, f.FlippedEdges}
		if got != tt.want {
			t.Errorf("%s: %+v, want %+v", tt.name, got, tt.want)
		}
		if tt.volume != 0 && !near(f.Volume, tt.volume, 1e-6) {
			t.Errorf("%s: volume %v, want %v", tt.name, f.Volume, tt.volume)
		}
		if f.Solid() != tt.solid {
			t.Errorf("%s: solid %v, want %v", tt.name, f.Solid(), tt.solid)
		}
		says := strings.Join(f.Sentences(1), " ")
		if tt.solid && says != "" || !strings.Contains(says, tt.says) {
			t.Errorf("%s: says %q, want %q", tt.name, says, tt.says)
		}
	}
}

func TestInspectMeasures(t *testing.T) {
	m := weld(t, solidtest.Box(30, 20, 10))
	f := mesh.Inspect(m, m.Adjacency())
	want := mesh.Findings{Triangles: 12, Points: 8, Shells: 1, Volume: 6000, Area: 2200, Size: geom.Vec{X: 30, Y: 20, Z: 10}}
	if !near(f.Volume, 6000, 1e-12) || !near(f.Area, 2200, 1e-12) {
		t.Errorf("volume %v, area %v", f.Volume, f.Area)
	}
	f.Volume, f.Area = 6000, 2200
	if f != want {
		t.Errorf("got %+v, want %+v", f, want)
	}
	none := &mesh.Mesh{}
	if f := mesh.Inspect(none, none.Adjacency()); f != (mesh.Findings{}) || f.Solid() {
		t.Errorf("nothing gives %+v", f)
	}
}

// A triangle whose points lie in one line is kept, since leaving it out would open a slit, and counted.
func TestInspectCountsLines(t *testing.T) {
	m := weld(t, &mesh.Mesh{
		Points:    []mesh.Point{{0, 0, 0}, {1, 0, 0}, {3, 0, 0}, {0, 2, 0}},
		Triangles: []mesh.Triangle{{0, 1, 2}, {0, 2, 3}},
	})
	f := mesh.Inspect(m, m.Adjacency())
	if f.ZeroArea != 1 || f.Triangles != 2 || f.OpenEdges != 4 {
		t.Errorf("%+v", f)
	}
}

func TestSentencesWithoutScale(t *testing.T) {
	f := mesh.Findings{Holes: 3, LongestHole: 41.2, Volume: 1, ZeroArea: 12345}
	want := []string{"The surface has 3 holes; the longest edge runs 41.2 file units.", "12\u202f345 facets are mere lines."}
	if got := f.Sentences(0); !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := f.Sentences(1000)[0]; got != "The surface has 3 holes; the longest edge runs 41200 mm." {
		t.Errorf("got %q", got)
	}
}

// twins is the slow twin of Adjacency for surfaces without edges of more than two triangles.
func twins(m *mesh.Mesh) mesh.Adjacency {
	at := map[[2]int32][]int32{}
	for t, c := range m.Triangles {
		for k := range c {
			e := [2]int32{c[k], c[(k+1)%3]}
			at[e] = append(at[e], int32(3*t+k))
		}
	}
	adj := make(mesh.Adjacency, 3*len(m.Triangles))
	for t, c := range m.Triangles {
		for k := range c {
			there, back := at[[2]int32{c[k], c[(k+1)%3]}], at[[2]int32{c[(k+1)%3], c[k]}]
			adj[3*t+k] = -1
			if len(there) == 1 && len(back) == 1 {
				adj[3*t+k] = back[0]
			}
		}
	}
	return adj
}

func TestAdjacency(t *testing.T) {
	ball := solidtest.Bumpy(50, 5000)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
	}{
		{"box", solidtest.Box(1, 2, 3)},
		{"cone with a fan of 500", solidtest.Frustum(5, 0, 3, 500)},
		{"bumpy", ball},
		{"shuffled", solidtest.Shuffle(ball, 2)},
		{"with holes", without(solidtest.Shuffle(ball, 4), 900)},
		{"partly turned over", turnedOver(solidtest.Shuffle(ball, 6), 700)},
		{"nothing", &mesh.Mesh{}},
	} {
		if got, want := tt.m.Adjacency(), twins(tt.m); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: differs from the slow twin", tt.name)
		}
	}
}

// Boxes that meet along an edge keep their own sides as partners, whichever way the edge points, and so do three wedges;
// turned inside out, the wood is on the other side and the gaps are paired.
func TestAdjacencyOfSharedEdges(t *testing.T) {
	box := solidtest.Box(10, 10, 10)
	for _, shift := range []geom.Vec{{X: 10, Y: 10}, {Y: 10, Z: 10}, {X: 10, Z: -10}, {X: -10, Y: 10}} {
		joined := weld(t, solidtest.Join(box, solidtest.Moved(box, shift)))
		if f := mesh.Inspect(joined, joined.Adjacency()); f.NonManifoldEdges != 1 || f.Shells != 2 || f.OpenEdges != 0 {
			t.Errorf("shift %v: %+v", shift, f)
		}
		for h, twin := range joined.Adjacency() {
			if twin < 0 || joined.Adjacency()[twin] != int32(h) {
				t.Fatalf("shift %v: half-edge %d has partner %d", shift, h, twin)
			}
		}
	}
	stacked := weld(t, solidtest.Join(box, solidtest.Moved(box, geom.Vec{Z: 10}))) // a whole face shared
	if f := mesh.Inspect(stacked, stacked.Adjacency()); f.Shells != 2 || f.NonManifoldEdges == 0 || f.OpenEdges != 0 {
		t.Errorf("stacked: %+v", f)
	}
}

func TestThin(t *testing.T) {
	m := solidtest.Bumpy(100, 100_000)
	thin := mesh.Thin(m, 6)
	if n := len(thin.Triangles); n > len(m.Triangles)/5 || n < 1000 {
		t.Errorf("%d triangles of %d left", n, len(m.Triangles))
	}
	// Volume is kept by the planes (plain averages lose 0.24 %); the area grows by folds along the cubes' faces, 3.2 % with
	// plain averages, too.
	if !near(thin.Volume(), m.Volume(), 0.001) || !near(thin.Area(), m.Area(), 0.04) {
		t.Errorf("volume %.0f for %.0f, area %.0f for %.0f", thin.Volume(), m.Volume(), thin.Area(), m.Area())
	}
	for _, c := range thin.Triangles {
		for _, p := range c {
			if p < 0 || int(p) >= len(thin.Points) {
				t.Fatalf("corner %d of %d", p, len(thin.Points))
			}
		}
	}
	box := mesh.Thin(solidtest.Box(10, 10, 10), 1)
	if !near(box.Volume(), 1000, 1e-6) {
		t.Errorf("a box of twelve triangles thinned to volume %v", box.Volume())
	}
	if mesh.Thin(m, 0) != m {
		t.Error("no cell, yet another mesh")
	}
	if one := mesh.Thin(m, 1e6); len(one.Triangles) != 0 || len(one.Points) != 1 {
		t.Errorf("a cell larger than the piece leaves %d triangles", len(one.Triangles))
	}
}

// Sharp edges stay where the planes meet, which an average of points would round off.
func TestThinKeepsEdges(t *testing.T) {
	lattice := solidtest.Frustum(40, 40, 60, 4)
	fine := refine(refine(refine(refine(lattice))))
	thin := mesh.Thin(weld(t, fine), 7)
	if !near(thin.Volume(), lattice.Volume(), 0.01) {
		t.Errorf("volume %.0f, want %.0f", thin.Volume(), lattice.Volume())
	}
}

// refine cuts each triangle into four; the result is not welded.
func refine(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		p, q, r := a.Add(b).Scale(0.5), b.Add(c).Scale(0.5), c.Add(a).Scale(0.5)
		n := int32(len(out.Points))
		for _, v := range []geom.Vec{a, b, c, p, q, r} {
			out.Points = append(out.Points, mesh.Point{float32(v.X), float32(v.Y), float32(v.Z)})
		}
		out.Triangles = append(out.Triangles, mesh.Triangle{n, n + 3, n + 5}, mesh.Triangle{n + 3, n + 1, n + 4},
			mesh.Triangle{n + 5, n + 4, n + 2}, mesh.Triangle{n + 3, n + 4, n + 5})
	}
	return out
}

// A scan's crumbs, each turned inside out, take their time but not the evening.
func BenchmarkInspectCrumbs(b *testing.B) {
	all := []*mesh.Mesh{solidtest.Sphere(100, 200_000)}
	crumb := solidtest.Flip(solidtest.Box(0.1, 0.1, 0.1))
	for i := range 20_000 {
		at := geom.Vec{X: float64(i%141) - 70, Y: float64(i/141) - 70, Z: 120}
		all = append(all, solidtest.Moved(crumb, at))
	}
	m := solidtest.Join(all...)
	adj := m.Adjacency()
	for b.Loop() {
		if f := mesh.Inspect(m, adj); f.InwardShells != 20_000 {
			b.Fatalf("%+v", f)
		}
	}
}
