package mend

import (
	"context"
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

// rootMean is the root of the mean square of off over the points.
func rootMean(m *mesh.Mesh, off func(geom.Vec) float64) float64 {
	sum := 0.0
	for _, p := range m.Points {
		d := off(p.Vec())
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(m.Points)))
}

func smoothed(t testing.TB, m *mesh.Mesh, depth float64) *mesh.Mesh {
	t.Helper()
	out, err := Smooth(context.Background(), m, m.Adjacency(), depth, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// offBox is the distance of p from the skin of a box with corner at the origin, and offArris that from its nearest arris, for
// points near to them.
func offBox(p, size geom.Vec) (off, offArris float64) {
	d := []float64{
		min(math.Abs(p.X), math.Abs(p.X-size.X)), min(math.Abs(p.Y), math.Abs(p.Y-size.Y)), min(math.Abs(p.Z), math.Abs(p.Z-size.Z)),
	}
	slices.Sort(d)
	return d[0], math.Hypot(d[0], d[1])
}

// Noise of known depth on a ball and on a box of 40 mm: what is left of it against the true shape, the arrises' place, the
// volume. The factors are what this method reaches on these; no source.
func TestSmooth(t *testing.T) {
	size := geom.Vec{X: 40, Y: 40, Z: 40}
	ball, box := solidtest.Sphere(50, 60_000), solidtest.SquaredBox(40, 40, 40, 70)
	for _, tt := range []struct {
		depth, ball, box, arris float64 // the least factors by which noise goes down; arris: the most that arrises are off, in depths
	}{
		{0.05, 3, 3, 0.3}, {0.1, 3, 3, 0.3}, {0.3, 3.5, 3.5, 0.35}, {0.5, 4, 2.5, 0.45},
	} {
		rough := solidtest.Roughened(ball, tt.depth, 1)
		out := smoothed(t, rough, tt.depth)
		off := func(p geom.Vec) float64 { return p.Len() - 50 }
		before, after := rootMean(rough, off), rootMean(out, off)
		if before/after < tt.ball {
			t.Errorf("ball, depth %v: noise %.4f before, %.4f after, want it down by %v", tt.depth, before, after, tt.ball)
		}
		checkSmooth(t, "ball", rough, out, tt.depth, ball.Volume())
		t.Logf("ball, depth %v: %.4f -> %.4f, a factor of %.1f", tt.depth, before, after, before/after)

		rough = solidtest.Roughened(box, tt.depth, 2)
		out = smoothed(t, rough, tt.depth)
		off = func(p geom.Vec) float64 { d, _ := offBox(p, size); return d }
		before, after = rootMean(rough, off), rootMean(out, off)
		arris, n := 0.0, 0
		for i, p := range box.Points {
			if _, d := offBox(p.Vec(), size); d == 0 {
				_, d = offBox(out.Points[i].Vec(), size)
				arris += d
				n++
			}
		}
		arris /= float64(n)
		if before/after < tt.box || arris > tt.arris*tt.depth {
			t.Errorf("box, depth %v: noise %.4f before, %.4f after, arrises off by %.4f", tt.depth, before, after, arris)
		}
		checkSmooth(t, "box", rough, out, tt.depth, box.Volume())
		t.Logf("box, depth %v: %.4f -> %.4f, a factor of %.1f, arrises off by %.4f", tt.depth, before, after, before/after, arris)
	}
}

// checkSmooth checks what holds for every mesh: no point goes further than depth, the volume stays within 0.5 %.
func checkSmooth(t *testing.T, name string, was, now *mesh.Mesh, depth, volume float64) {
	t.Helper()
	for i, p := range now.Points {
		if d := p.Vec().Sub(was.Points[i].Vec()).Len(); d > depth {
			t.Fatalf("%s: a point went %v, further than %v", name, d, depth)
		}
	}
	if got := now.Volume(); math.Abs(got-was.Volume()) > 0.005*volume || math.Abs(got-volume) > 0.005*volume {
		t.Errorf("%s: volume %v, was %v, truth %v", name, got, was.Volume(), volume)
	}
}

// A box and a smooth scan without noise hardly change; a depth of nothing changes nothing.
func TestSmoothLeavesCleanShapes(t *testing.T) {
	box := solidtest.SquaredBox(40, 30, 20, 40)
	out := smoothed(t, box, 0.5)
	for i, p := range out.Points {
		if d := p.Vec().Sub(box.Points[i].Vec()).Len(); d > 1e-4 {
			t.Fatalf("point %v of a clean box went %v", p, d)
		}
	}
	scan := solidtest.Bumpy(100, 100_000)
	out = smoothed(t, scan, 0.5)
	sum := 0.0
	for i, p := range out.Points {
		sum += p.Vec().Sub(scan.Points[i].Vec()).Len()
	}
	if mean := sum / float64(len(out.Points)); mean > 0.02 {
		t.Errorf("points of a clean scan went %v on the average", mean)
	}
	for _, depth := range []float64{0, -1, math.NaN()} {
		if smoothed(t, scan, depth) != scan {
			t.Errorf("depth %v changes the mesh", depth)
		}
	}
}

func TestSmoothRealSolids(t *testing.T) {
	for _, m := range solidtest.Real(t) {
		f := mesh.Inspect(m.Mesh, m.Adjacency())
		depth := max(f.Size.X, f.Size.Y, f.Size.Z) / 500
		out := smoothed(t, m.Mesh, depth)
		g := mesh.Inspect(out, out.Adjacency())
		if f.Solid() {
			checkSmooth(t, m.Name, m.Mesh, out, depth, f.Volume)
		}
		if f.Solid() != g.Solid() {
			t.Errorf("%s: was %+v, is %+v", m.Name, f, g)
		}
	}
}

// Rims stay, and a lone point that no triangle uses does no harm.
func TestSmoothKeepsRims(t *testing.T) {
	ball := solidtest.Roughened(solidtest.Sphere(50, 20_000), 0.3, 1)
	bowl := &mesh.Mesh{Points: append(slices.Clone(ball.Points), mesh.Point{1, 2, 3})}
	for _, c := range ball.Triangles {
		if ball.Points[c[0]][2] < 20 {
			bowl.Triangles = append(bowl.Triangles, c)
		}
	}
	adj := bowl.Adjacency()
	out := smoothed(t, bowl, 0.3)
	moved := 0
	for h, twin := range adj {
		p := bowl.Triangles[h/3][h%3]
		if twin < 0 && out.Points[p] != bowl.Points[p] {
			t.Fatal("a point on the rim moved")
		}
		if out.Points[p] != bowl.Points[p] {
			moved++
		}
	}
	if moved < len(adj)/2 || out.Points[len(ball.Points)] != (mesh.Point{1, 2, 3}) {
		t.Errorf("%d of %d corners moved", moved, len(adj))
	}
}

func TestSmoothCores(t *testing.T) {
	m := solidtest.Roughened(solidtest.Bumpy(200, 100_000), 0.2, 1)
	run := func(cores int) *mesh.Mesh {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		return smoothed(t, m, 0.3)
	}
	if !reflect.DeepEqual(run(1), run(4)) {
		t.Error("one core and four give different results")
	}
}

func TestSmoothStops(t *testing.T) {
	m := solidtest.Bumpy(200, 250_000)
	adj := m.Adjacency()
	stoptest.Soon(t, 0.08, func(ctx context.Context) error {
		_, err := Smooth(ctx, m, adj, 0.3, nil)
		return err
	})
}

func BenchmarkSmooth(b *testing.B) {
	m := solidtest.Roughened(solidtest.Bumpy(200, 1_000_000), 0.2, 1)
	adj := m.Adjacency()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Smooth(context.Background(), m, adj, 0.3, nil); err != nil {
			b.Fatal(err)
		}
	}
}
