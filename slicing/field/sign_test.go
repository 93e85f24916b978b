package field

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestShellsUnite: shells that were pushed into one another are one solid, and what surface of theirs lies in the wood is
// no surface. Two unit cubes that share half have volume 1.5.
func TestShellsUnite(t *testing.T) {
	a := solidtest.Box(100, 100, 100)
	two := solidtest.Join(a, solidtest.Moved(a, geom.Vec{X: 50}))
	g := build(t, two, 120)
	near(t, "volume over that of one cube", table(t, g, still, 100).CoreVolume(0, 100, 0)/1e6, 1.5, 0.01)
	near(t, "deepest", g.deepest, 50, 0.9*g.step)
	for _, p := range []geom.Vec{{X: 50, Y: 50, Z: 50}, {X: 100, Y: 50, Z: 50}, {X: 75, Y: 40, Z: 50}} {
		near(t, "depth on buried surface", g.Depth(p), min(p.Y, 50), 0.1*g.step)
	}
	corner := build(t, solidtest.Join(a, solidtest.Moved(a, geom.Vec{X: 50, Y: 50, Z: 50})), 120)
	near(t, "depth where one cube's corner sinks into the other", corner.Depth(geom.Vec{X: 75, Y: 75, Z: 75}), math.Sqrt(2)*25, 0.1*g.step)
}

// TestDoubledShell: the same shell twice is that shell.
func TestDoubledShell(t *testing.T) {
	m := solidtest.Bumpy(50, 20_000)
	one, two := build(t, m, 60), build(t, solidtest.Join(m, m), 60)
	for i := range one.depth {
		if math.Abs(float64(one.depth[i]-two.depth[i])) > 0.3*one.step {
			t.Fatalf("at %v depth is %.3f, doubled %.3f", one.node(i), one.depth[i], two.depth[i])
		}
	}
}

// TestVoid: a shell that faces inward within one that faces outward is a hollow.
func TestVoid(t *testing.T) {
	g := build(t, solidtest.Join(solidtest.Sphere(50, 20_000), solidtest.Flip(solidtest.Sphere(20, 5_000))), 80)
	near(t, "depth between the skins", g.Depth(geom.Vec{X: 35}), 15, 0.05*g.step)
	near(t, "depth in the void", g.Depth(geom.Vec{X: 10}), -10, 0.2*g.step)
}

// TestRaysThroughEdges: with all corners and edges on nodes, rays meet nothing else, and must count each once.
func TestRaysThroughEdges(t *testing.T) {
	const n = 20
	ball := &mesh.Mesh{Points: []mesh.Point{{n, 0, 0}, {-n, 0, 0}, {0, n, 0}, {0, -n, 0}, {0, 0, n}, {0, 0, -n}}}
	for s := range 8 {
		t := mesh.Triangle{int32(s & 1), int32(2 + s>>1&1), int32(4 + s>>2&1)}
		if s&1^s>>1&1^s>>2&1 == 1 {
			t[0], t[1] = t[1], t[0]
		}
		ball.Triangles = append(ball.Triangles, t)
	}
	g := build(t, ball, 2*n)
	for i, d := range g.depth {
		p := g.node(i)
		want := (n - math.Abs(p.X) - math.Abs(p.Y) - math.Abs(p.Z)) / math.Sqrt(3)
		if math.Abs(want) > 1e-3 && (d > 0) != (want > 0) {
			t.Fatalf("octahedron: depth at %v is %v, want about %.3f", p, d, want)
		}
	}
}

// TestOpenMesh: a scan without its base, and one with facets missing here and there, keep their inside.
func TestOpenMesh(t *testing.T) {
	whole := solidtest.Sphere(50, 20_000)
	rnd := rand.New(rand.NewSource(3))
	for _, tt := range []struct {
		name string
		drop func(c geom.Vec) bool
		far  float64 // from the hole where nothing is asked
	}{
		{"no base", func(c geom.Vec) bool { return c.Z < -45 }, 6},
		{"no side", func(c geom.Vec) bool { return c.X > 45 }, 6},
		{"one facet in 200 gone", func(geom.Vec) bool { return rnd.Intn(200) == 0 }, 3},
	} {
		m := &mesh.Mesh{Points: whole.Points}
		for i, tri := range whole.Triangles {
			a, b, c := whole.Corners(i)
			if !tt.drop(a.Add(b).Add(c).Scale(1. / 3)) {
				m.Triangles = append(m.Triangles, tri)
			}
		}
		g, wrong := build(t, m, 60), 0
		for i, d := range g.depth {
			if want := 50 - g.node(i).Len(); math.Abs(want) > tt.far && (d > 0) != (want > 0) {
				wrong++
			}
		}
		if wrong > 0 {
			t.Errorf("%s: %d nodes of %d on the wrong side", tt.name, wrong, len(g.depth))
		}
	}
}
