package field

import (
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/unixpickle/model3d/model3d"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestDepthAgainstEveryFacet holds nodes against the least distance to all facets: never less, hardly ever more.
func TestDepthAgainstEveryFacet(t *testing.T) {
	turn := geom.TurnXYZ(20, 30, 40)
	for _, tt := range []struct {
		name        string
		m           *mesh.Mesh
		worst, mean float64 // steps
	}{
		{"block", solidtest.Box(100, 70, 40), 1e-4, 1e-5},
		{"block turned", solidtest.Turned(solidtest.Box(100, 70, 40), turn), 1e-4, 1e-5},
		{"coarse ring", solidtest.Torus(40, 12, 64, 32), 0.2, 0.002},
		{"fine ring", solidtest.Torus(40, 12, 256, 128), 0.05, 0.001},
		{"ball", solidtest.Sphere(50, 20_000), 0.06, 0.002},
		{"cone", solidtest.Frustum(40, 0, 60, 64), 0.2, 0.001},
		{"lumps", solidtest.Bumpy(50, 50_000), 0.2, 0.002},
		{"lumps in random order", solidtest.Shuffle(solidtest.Bumpy(50, 50_000), 1), 0.2, 0.002},
		{"flat lumps", solidtest.Stretch(solidtest.Bumpy(50, 20_000), 1, 1, 0.1), 0.2, 0.002},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := build(t, tt.m, 80)
			rnd := rand.New(rand.NewSource(1))
			sum, n := 0.0, 0
			for n < 500 {
				i := rnd.Intn(len(g.depth))
				d := float64(g.depth[i])
				if d < -2*g.step {
					continue
				}
				off := (math.Abs(d) - distance(tt.m, g.node(i))) / g.step
				if off < -1e-4 || off > tt.worst {
					t.Errorf("node %v is %.4f steps off", g.node(i), off)
				}
				sum += math.Abs(off)
				n++
			}
			near(t, "mean error in steps", sum/float64(n), 0, tt.mean)
		})
	}
}

// hook reads a mesh that comes with model3d.
func hook(t *testing.T) *mesh.Mesh {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/unixpickle/model3d").Output()
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(strings.TrimSpace(string(dir)), "model3d", "test_data", "non_intersecting_hook.stl"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	tris, err := model3d.ReadSTL(f)
	if err != nil {
		t.Fatal(err)
	}
	m, at := &mesh.Mesh{}, map[mesh.Point]int32{}
	for _, tri := range tris {
		var c mesh.Triangle
		for i, p := range tri {
			q := mesh.Point{float32(p.X), float32(p.Y), float32(p.Z)}
			if _, ok := at[q]; !ok {
				at[q] = int32(len(m.Points))
				m.Points = append(m.Points, q)
			}
			c[i] = at[q]
		}
		m.Triangles = append(m.Triangles, c)
	}
	return m
}

// TestDepthAgainstModel3D holds interpolated depths at random points of a scanned-like hook against an independent exact
// signed distance, that of github.com/unixpickle/model3d v0.4.5, which is positive inside as ours is.
func TestDepthAgainstModel3D(t *testing.T) {
	m := hook(t)
	theirs := model3d.NewMesh()
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		theirs.Add(&model3d.Triangle{model3d.Coord3D(a), model3d.Coord3D(b), model3d.Coord3D(c)})
	}
	sdf := model3d.MeshToSDF(theirs)
	g := build(t, m, 150)
	rnd := rand.New(rand.NewSource(2))
	sum, worst, n, inside := 0.0, 0.0, 0, 0
	for n < 5000 {
		s := g.solid.Size()
		p := g.solid.Min.Add(geom.Vec{X: s.X * rnd.Float64(), Y: s.Y * rnd.Float64(), Z: s.Z * rnd.Float64()})
		want := sdf.SDF(model3d.Coord3D(p))
		if want < -8*g.step {
			continue
		}
		got := g.Depth(p)
		off := math.Abs(got-want) / g.step
		if math.Abs(want) > g.step && (got > 0) != (want > 0) {
			t.Errorf("at %v depth is %.3f, theirs %.3f", p, got, want)
		}
		sum, worst = sum+off, max(worst, off)
		n++
		if want > 0 {
			inside++
		}
	}
	t.Logf("mean error %.4f steps, worst %.3f, %d of %d inside", sum/float64(n), worst, inside, n)
	near(t, "mean error in steps", sum/float64(n), 0, 0.04)
	near(t, "worst error in steps", worst, 0, 0.6)
	if inside < 100 {
		t.Errorf("only %d points inside", inside)
	}
}

// TestDeepest: the field's greatest value is the radius of the largest ball that fits in.
func TestDeepest(t *testing.T) {
	for _, tt := range []struct {
		name     string
		m        *mesh.Mesh
		inradius float64
	}{
		{"ball", solidtest.Sphere(50, 100_000), 50},
		{"block", solidtest.Box(100, 70, 40), 20},
		{"block turned", solidtest.Turned(solidtest.Box(100, 70, 40), geom.TurnXYZ(10, 20, 30)), 20},
		{"ring", solidtest.Torus(40, 12, 256, 128), 12},
	} {
		g := build(t, tt.m, 100)
		if d := g.deepest; d > tt.inradius*1.001 || d < tt.inradius-0.9*g.step {
			t.Errorf("%s: deepest is %.3f, want %.3f less at most %.3f", tt.name, d, tt.inradius, 0.9*g.step)
		}
	}
}

// TestOutsideGridIsBound: beyond the grid a depth never claims the piece to be farther than it is, and is the nearer to the
// truth the farther off.
func TestOutsideGridIsBound(t *testing.T) {
	g := build(t, solidtest.Sphere(50, 20_000), 40)
	for _, p := range []geom.Vec{{X: 100}, {X: 80, Y: 80}, {X: -200, Y: 100, Z: 300}, {Z: 1e6}} {
		want, got := p.Len()-50, -g.Depth(p)
		if got > want*1.001 || got < 0.7*want {
			t.Errorf("at %v the ball is said to be %.2f away, is %.2f", p, got, want)
		}
	}
}

// TestDepthMovesWithPiece: shifting and scaling the piece shifts and scales its depths.
func TestDepthMovesWithPiece(t *testing.T) {
	m := solidtest.Bumpy(50, 20_000)
	g := build(t, m, 60)
	by := geom.Vec{X: 1000, Y: -500, Z: 250}
	moved, grown := build(t, solidtest.Moved(m, by), 60), build(t, solidtest.Stretch(m, 3, 3, 3), 60)
	for i := 0; i < len(g.depth); i += 997 {
		p := g.node(i)
		near(t, "depth of the moved piece", moved.Depth(p.Add(by)), g.Depth(p), 0.01*g.step)
		near(t, "depth of the grown piece", grown.Depth(p.Scale(3)), 3*g.Depth(p), 0.01*g.step)
	}
}
