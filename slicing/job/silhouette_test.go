package job_test

import (
	"context"
	"math"
	"reflect"
	"runtime"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

func silhouette(t testing.TB, m *mesh.Mesh) (*job.Standing, geom.Region) {
	t.Helper()
	st, err := job.Stand(context.Background(), job.NewPiece("test", m, mesh.Raw{}), stack.Stand{Turn: geom.NoTurn(), Scale: 1})
	if err != nil {
		t.Fatal(err)
	}
	return st, st.Silhouette()
}

// counted is how many outlines and how many holes a region has.
func counted(g geom.Region) (outlines, holes int) {
	for _, r := range g {
		if r.Area() > 0 {
			outlines++
		} else {
			holes++
		}
	}
	return outlines, holes
}

// Areas by hand: the sphere's front is a disc, the box's a rectangle, the frustum's a trapezium, the upright torus's a disc
// with a round hole, the lying torus's a rectangle with half a disc at either end.
func TestSilhouetteAreas(t *testing.T) {
	upright := geom.TurnXYZ(90, 0, 0)
	for _, tt := range []struct {
		name            string
		mesh            *mesh.Mesh
		area, share     float64
		outlines, holes int
	}{
		{"sphere", solidtest.Sphere(50, 40000), math.Pi * 2500, 0.005, 1, 0},
		{"sphere turned inside out", solidtest.Flip(solidtest.Sphere(50, 40000)), math.Pi * 2500, 0.005, 1, 0},
		{"box", solidtest.Box(120, 50, 80), 9600, 1e-6, 1, 0},
		{"long box", solidtest.Box(900, 50, 8), 7200, 1e-6, 1, 0},
		{"tall box", solidtest.Box(8, 50, 900), 7200, 1e-6, 1, 0},
		{"frustum", solidtest.Frustum(40, 10, 60, 2000), 3000, 0.005, 1, 0},
		{"upright torus", solidtest.Turned(solidtest.Torus(60, 20, 400, 200), upright), math.Pi * (80*80 - 40*40), 0.005, 1, 1},
		{"lying torus", solidtest.Torus(60, 20, 400, 200), 120*40 + math.Pi*400, 0.005, 1, 0},
		{"two boxes", solidtest.Join(solidtest.Box(10, 10, 40), solidtest.Moved(solidtest.Box(10, 10, 20), geom.Vec{X: 30})), 600, 0.005, 2, 0},
		{"one behind another", solidtest.Join(solidtest.Box(30, 10, 40), solidtest.Moved(solidtest.Box(10, 10, 20), geom.Vec{X: 10, Y: 50})), 1200, 1e-6, 1, 0},
	} {
		_, g := silhouette(t, tt.mesh)
		if math.Abs(g.Area()-tt.area) > tt.share*tt.area {
			t.Errorf("%s: %.3f mm², want %.3f", tt.name, g.Area(), tt.area)
		}
		if o, h := counted(g); o != tt.outlines || h != tt.holes {
			t.Errorf("%s: %d outlines and %d holes, want %d and %d", tt.name, o, h, tt.outlines, tt.holes)
		}
	}
}

// A box has four corners, in their places.
func TestSilhouetteOfABox(t *testing.T) {
	_, g := silhouette(t, solidtest.Box(120, 50, 80))
	if len(g) != 1 || len(g[0]) != 4 {
		t.Fatalf("%v", g)
	}
	for i, want := range []geom.Vec2{{X: -60}, {X: 60}, {X: 60, Y: 80}, {X: -60, Y: 80}} {
		if g[0][i].Sub(want).Len() > 1e-4 {
			t.Errorf("corner %d at %v, want %v", i, g[0][i], want)
		}
	}
}

// The slow twin: a place is covered where some facet, seen from the front, contains it. Places within a cell of the
// silhouette's line may count either way.
func TestSilhouetteAgainstFacets(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{
		"hare":           sample.Hare(6000),
		"bumpy":          solidtest.Bumpy(60, 4000),
		"tilted torus":   solidtest.Turned(solidtest.Torus(60, 15, 80, 30), geom.TurnXYZ(65, 20, 10)),
		"shuffled torus": solidtest.Shuffle(solidtest.Turned(solidtest.Torus(60, 15, 80, 30), geom.TurnXYZ(90, 20, 10)), 3),
	} {
		st, g := silhouette(t, m)
		size := st.Placed.Box.Size()
		cell := math.Max(size.X, size.Z) / 512
		wrong, asked := 0, 0
		const n = 60
		for i := range n {
			for k := range n {
				p := geom.Vec2{X: (float64(i)+0.37)/n*size.X - size.X/2, Y: (float64(k) + 0.61) / n * size.Z}
				if distance(g, p) < cell {
					continue
				}
				asked++
				if g.Contains(p) != shadowed(st.Placed.Mesh, p) {
					wrong++
				}
			}
		}
		if wrong > 0 || asked < n*n*3/4 {
			t.Errorf("%s: %d of %d places are on the wrong side", name, wrong, asked)
		}
	}
}

// distance is how far p lies from a region's lines.
func distance(g geom.Region, p geom.Vec2) float64 {
	d := math.Inf(1)
	for _, r := range g {
		for i, a := range r {
			e := r[(i+1)%len(r)].Sub(a)
			f := math.Max(0, math.Min(1, p.Sub(a).Dot(e)/e.Dot(e)))
			d = math.Min(d, p.Sub(a.Add(e.Scale(f))).Len())
		}
	}
	return d
}

func shadowed(m *mesh.Mesh, p geom.Vec2) bool {
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		front := geom.Ring{{X: a.X, Y: a.Z}, {X: b.X, Y: b.Z}, {X: c.X, Y: c.Z}}
		if front.Winding(p) != 0 {
			return true
		}
	}
	return false
}

// Seen from the front, the hare shows daylight: between its ears and its back, under its belly.
func TestSilhouetteOfTheHare(t *testing.T) {
	st, g := silhouette(t, sample.Hare(60000))
	gaps := map[string]int{}
	size := st.Placed.Box.Size()
	for k := range 64 {
		z := (float64(k) + 0.5) / 64 * size.Z
		runs, was := 0, false
		for i := range 600 {
			is := g.Contains(geom.Vec2{X: (float64(i)+0.5)/600*size.X - size.X/2, Y: z})
			if is && !was {
				runs++
			}
			was = is
		}
		if runs > 1 && z < size.Z/3 {
			gaps["low"]++
		}
		if runs > 1 && z > size.Z/2 {
			gaps["high"]++
		}
	}
	if gaps["low"] < 3 || gaps["high"] < 3 {
		t.Errorf("heights of 64 at which daylight shows: %v", gaps)
	}
	if n := points(g); n > 1000 {
		t.Errorf("%d points", n)
	}
}

func points(g geom.Region) (n int) {
	for _, r := range g {
		n += len(r)
	}
	return n
}

// The order of facets and the number of cores change nothing.
func TestSilhouetteIsAlwaysTheSame(t *testing.T) {
	m := sample.Hare(30000)
	_, want := silhouette(t, m)
	_, shuffled := silhouette(t, solidtest.Shuffle(m, 7))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	_, alone := silhouette(t, m)
	if !reflect.DeepEqual(want, shuffled) || !reflect.DeepEqual(want, alone) {
		t.Error("the silhouette depends on facets' order or on cores")
	}
}

func TestSilhouetteOfNothing(t *testing.T) {
	flat := solidtest.Stretch(solidtest.Box(10, 10, 10), 1, 1, 0)
	thin := solidtest.Stretch(solidtest.Box(10, 10, 10), 0, 1, 1)
	for name, m := range map[string]*mesh.Mesh{"flat": flat, "edge on": thin} {
		st, err := job.Stand(context.Background(), job.NewPiece(name, m, mesh.Raw{}), stack.Stand{Turn: geom.NoTurn(), Scale: 1})
		if err == nil && len(st.Silhouette()) > 0 {
			t.Errorf("%s: %v", name, st.Silhouette())
		}
	}
}
