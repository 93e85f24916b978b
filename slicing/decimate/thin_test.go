package decimate

import (
	"context"
	"math"
	"reflect"
	"runtime"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

// euler is points - edges + triangles of a closed mesh: 2 for each shell, less 2 for each handle.
func euler(m *mesh.Mesh) int { return len(m.Points) - len(m.Triangles)/2 }

// Closed solids stay closed solids with as many shells and handles, near enough, and with far fewer triangles.
func TestThin(t *testing.T) {
	bumpy := solidtest.Bumpy(200, 100_000)
	for _, tt := range []struct {
		name      string
		m         *mesh.Mesh
		tolerance float64
		most      int // triangles left
	}{
		{"box", solidtest.SquaredBox(40, 30, 20, 50), 0.01, 80},
		{"ball", solidtest.Sphere(50, 60_000), 0.05, 5_000},
		{"ball, hardly", solidtest.Sphere(50, 60_000), 0.008, 32_000},
		{"ball, to a lump", solidtest.Sphere(50, 60_000), 10, 30},
		{"torus", solidtest.Torus(40, 12, 300, 150), 0.05, 6_000},
		{"frustum with its hubs", solidtest.Frustum(30, 20, 40, 2000), 0.05, 400},
		{"scan", bumpy, 0.1, 24_000},
		{"scan in disorder", solidtest.Shuffle(bumpy, 3), 0.1, 24_000},
		{"scan of rough skin", solidtest.Roughened(bumpy, 0.3, 1), 0.4, 60_000},
		{"two balls, one within the other", solidtest.Join(solidtest.Sphere(50, 30_000), solidtest.Flip(solidtest.Sphere(30, 20_000))), 0.1, 4_000},
		{"far from the origin", solidtest.Moved(solidtest.Sphere(50, 60_000), geom.Vec{X: 3000, Y: -2000, Z: 1000}), 0.05, 5_000},
		{"tetrahedron", tetrahedron(), 5, 4},
	} {
		out, gap, err := Thin(context.Background(), tt.m, tt.m.Adjacency(), tt.tolerance, nil)
		if err != nil {
			t.Fatal(tt.name, err)
		}
		was, now := mesh.Inspect(tt.m, tt.m.Adjacency()), mesh.Inspect(out, out.Adjacency())
		if !now.Solid() || now.Shells != was.Shells || now.ZeroArea > 0 || euler(out) != euler(tt.m) {
			t.Errorf("%s: %+v, Euler number %d, want %d", tt.name, now, euler(out), euler(tt.m))
		}
		if now.Triangles > tt.most {
			t.Errorf("%s: %d of %d triangles left, want at most %d", tt.name, now.Triangles, was.Triangles, tt.most)
		}
		if d := math.Abs(now.Volume - was.Volume); d > tt.tolerance*was.Area {
			t.Errorf("%s: volume off by %v", tt.name, d)
		}
		if gap.MaxDistance > 1.1*tt.tolerance || gap.MeanDistance > gap.MaxDistance {
			t.Errorf("%s: measured %+v at tolerance %v", tt.name, gap, tt.tolerance)
		}
		t.Logf("%s: %d -> %d triangles, tolerance %v, measured %.4f at most, %.4f mean", tt.name, was.Triangles, now.Triangles,
			tt.tolerance, gap.MaxDistance, gap.MeanDistance)
	}
}

func tetrahedron() *mesh.Mesh {
	return &mesh.Mesh{
		Points:    []mesh.Point{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}},
		Triangles: []mesh.Triangle{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

// What comes with github.com/unixpickle/model3d v0.4.5: modelled and scanned solids of 3,000 to 60,000 triangles.
func TestThinRealSolids(t *testing.T) {
	for _, m := range solidtest.Real(t) {
		was := mesh.Inspect(m.Mesh, m.Adjacency())
		size := max(was.Size.X, was.Size.Y, was.Size.Z)
		tolerance := size / 1000
		out, gap, err := Thin(context.Background(), m.Mesh, m.Adjacency(), tolerance, nil)
		if err != nil {
			t.Fatal(m.Name, err)
		}
		now := mesh.Inspect(out, out.Adjacency())
		if was.Solid() && !now.Solid() || now.OpenEdges != was.OpenEdges || now.NonManifoldEdges > was.NonManifoldEdges {
			t.Errorf("%s: was %+v, is %+v", m.Name, was, now)
		}
		if gap.MaxDistance > 1.1*tolerance || math.Abs(now.Volume-was.Volume) > tolerance*was.Area {
			t.Errorf("%s: measured %+v at tolerance %v, volume %v and %v", m.Name, gap, tolerance, was.Volume, now.Volume)
		}
		t.Logf("%s: solid %v, %d -> %d triangles, measured %.2f of the tolerance at most, %.3f mean", m.Name, was.Solid(), was.Triangles,
			now.Triangles, gap.MaxDistance/tolerance, gap.MeanDistance/tolerance)
	}
}

// The box's corners and arrises are where they were: flat sides may go, edges may not.
func TestThinKeepsArrises(t *testing.T) {
	out, gap, err := Thin(context.Background(), solidtest.SquaredBox(40, 30, 20, 50), solidtest.SquaredBox(40, 30, 20, 50).Adjacency(), 0.01, nil)
	if err != nil {
		t.Fatal(err)
	}
	corners := 0
	for _, p := range out.Points {
		v := p.Vec()
		if (v.X < 0.01 || v.X > 39.99) && (v.Y < 0.01 || v.Y > 29.99) && (v.Z < 0.01 || v.Z > 19.99) {
			corners++
		}
	}
	if corners != 8 || gap.MaxDistance > 0.01 {
		t.Errorf("%d corners, %+v", corners, gap)
	}
}

// Points on a rim stay to the bit, and so does the rim's length.
func TestThinKeepsRims(t *testing.T) {
	ball := solidtest.Sphere(50, 60_000)
	bowl := &mesh.Mesh{Points: ball.Points}
	for _, c := range ball.Triangles {
		if ball.Points[c[0]][2] < 20 {
			bowl.Triangles = append(bowl.Triangles, c)
		}
	}
	out, _, err := Thin(context.Background(), bowl, bowl.Adjacency(), 0.1, nil)
	if err != nil {
		t.Fatal(err)
	}
	was, now := mesh.Inspect(bowl, bowl.Adjacency()), mesh.Inspect(out, out.Adjacency())
	if now.OpenEdges != was.OpenEdges || now.Holes != 1 || math.Abs(now.LongestHole-was.LongestHole) > 1e-9*was.LongestHole || now.NonManifoldEdges > 0 {
		t.Errorf("was %+v, is %+v", was, now)
	}
	if now.Triangles > was.Triangles/4 {
		t.Errorf("%d of %d triangles left", now.Triangles, was.Triangles)
	}
}

// Points that are to stay do, to the bit and under the numbers that are told.
func TestKeeping(t *testing.T) {
	ball := solidtest.Sphere(50, 20_000)
	stays := func(p int) bool { return ball.Points[p][2] > 30 }
	out, number, err := Keeping(context.Background(), ball, ball.Adjacency(), 0.5, stays)
	if err != nil {
		t.Fatal(err)
	}
	gone := 0
	for p, to := range number {
		switch {
		case to >= 0 && stays(p) && out.Points[to] != ball.Points[p]:
			t.Fatalf("point %d moved from %v to %v", p, ball.Points[p], out.Points[to])
		case to < 0 && stays(p):
			t.Fatalf("point %d at %v is gone", p, ball.Points[p])
		case to < 0:
			gone++
		}
	}
	if f := mesh.Inspect(out, out.Adjacency()); !f.Solid() || gone < len(ball.Points)/2 || len(out.Points) != len(ball.Points)-gone {
		t.Errorf("%d of %d points gone, %d left, solid: %v", gone, len(ball.Points), len(out.Points), f.Solid())
	}
}

// Boxes that share an edge, a flipped patch and a sliver come through without harm.
func TestThinBrokenMeshes(t *testing.T) {
	box := solidtest.SquaredBox(10, 10, 10, 20)
	touching := &mesh.Mesh{Points: box.Points, Triangles: append([]mesh.Triangle(nil), box.Triangles...)}
	number := map[mesh.Point]int32{}
	for i, p := range box.Points {
		number[p] = int32(i)
	}
	shifted := make([]int32, len(box.Points))
	for i, p := range box.Points {
		q := mesh.Point{p[0] + 10, p[1] + 10, p[2]}
		k, ok := number[q]
		if !ok {
			k = int32(len(touching.Points))
			touching.Points = append(touching.Points, q)
		}
		shifted[i] = k
	}
	for _, c := range box.Triangles {
		touching.Triangles = append(touching.Triangles, mesh.Triangle{shifted[c[0]], shifted[c[1]], shifted[c[2]]})
	}
	flipped := &mesh.Mesh{Points: box.Points, Triangles: append([]mesh.Triangle(nil), box.Triangles...)}
	for i := 100; i < 120; i++ {
		c := flipped.Triangles[i]
		flipped.Triangles[i] = mesh.Triangle{c[0], c[2], c[1]}
	}
	for _, m := range []*mesh.Mesh{touching, flipped} {
		was := mesh.Inspect(m, m.Adjacency())
		out, gap, err := Thin(context.Background(), m, m.Adjacency(), 0.05, nil)
		if err != nil {
			t.Fatal(err)
		}
		now := mesh.Inspect(out, out.Adjacency())
		if math.Abs(now.Volume-was.Volume) > 0.05*was.Area || gap.MaxDistance > 0.055 || now.OpenEdges > was.OpenEdges {
			t.Errorf("was %+v, is %+v, %+v", was, now, gap)
		}
	}
}

// The grid's distances against all triangles looked at one by one.
func TestThinGridAgainstAll(t *testing.T) {
	m := solidtest.Bumpy(50, 600)
	g, err := newGrid(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 12 {
		f := float64(i)
		p := geom.Vec{X: 90 * math.Sin(f), Y: 90 * math.Sin(1.7*f), Z: 90 * math.Cos(2.3*f)}
		want := math.Inf(1)
		for k := range m.Triangles {
			a, b, c := m.Corners(k)
			want = min(want, plainDistance(p, a, b, c))
		}
		if got := math.Sqrt(g.distance2(p)); math.Abs(got-want) > 1e-5*(1+want) {
			t.Fatalf("distance from %v is %v, want %v", p, got, want)
		}
	}
}

// plainDistance is the distance from p to a triangle, which is convex over it: thirds are cut off within thirds.
func plainDistance(p, a, b, c geom.Vec) float64 {
	return least(func(s float64) float64 {
		from, to := a.Add(b.Sub(a).Scale(s)), a.Add(c.Sub(a).Scale(s))
		return least(func(t float64) float64 { return from.Add(to.Sub(from).Scale(t)).Sub(p).Len() })
	})
}

// least is the least value of a convex function over [0, 1].
func least(f func(float64) float64) float64 {
	low, high := 0.0, 1.0
	for range 40 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if f(a) < f(b) {
			high = b
		} else {
			low = a
		}
	}
	return f((low + high) / 2)
}

// Twice the size at twice the tolerance gives the same triangles: powers of two lose nothing.
func TestThinScales(t *testing.T) {
	m := solidtest.Bumpy(64, 20_000)
	big := solidtest.Stretch(m, 4, 4, 4)
	a, gapA, err := Thin(context.Background(), m, m.Adjacency(), 0.0625, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, gapB, err := Thin(context.Background(), big, big.Adjacency(), 0.25, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a.Triangles, b.Triangles) || math.Abs(4*gapA.MaxDistance-gapB.MaxDistance) > 1e-9 {
		t.Errorf("%d and %d triangles, %+v and %+v", len(a.Triangles), len(b.Triangles), gapA, gapB)
	}
}

// The result is the same on one core and on more.
func TestThinCores(t *testing.T) {
	m := solidtest.Bumpy(200, 100_000)
	run := func(cores int) (*mesh.Mesh, Measured) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		out, gap, err := Thin(context.Background(), m, m.Adjacency(), 0.1, nil)
		if err != nil {
			t.Fatal(err)
		}
		return out, gap
	}
	a, gapA := run(1)
	b, gapB := run(4)
	if !reflect.DeepEqual(a, b) || gapA != gapB {
		t.Error("one core and four give different results")
	}
}

func TestThinNothingToDo(t *testing.T) {
	m := solidtest.Box(1, 2, 3)
	for _, tolerance := range []float64{0, -1, math.NaN(), 1e-6} {
		if out, gap, err := Thin(context.Background(), m, m.Adjacency(), tolerance, nil); out != m || gap != (Measured{}) || err != nil {
			t.Errorf("tolerance %v: %v, %v, %v", tolerance, out, gap, err)
		}
	}
	empty := &mesh.Mesh{}
	if out, _, err := Thin(context.Background(), empty, empty.Adjacency(), 1, nil); out != empty || err != nil {
		t.Error(out, err)
	}
}

func TestThinStops(t *testing.T) {
	m := solidtest.Bumpy(200, 250_000)
	adj := m.Adjacency()
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		_, _, err := Thin(ctx, m, adj, 0.02, nil)
		return err
	})
}

func BenchmarkThinTo(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	adj := m.Adjacency()
	b.Run("coherent", func(b *testing.B) { benchmarkThinTo(b, m, adj) })
	shuffled := solidtest.Shuffle(m, 1)
	adj = shuffled.Adjacency()
	b.Run("shuffled", func(b *testing.B) { benchmarkThinTo(b, shuffled, adj) })
}

// benchmarkThinTo thins a million triangles to about a hundred thousand.
func benchmarkThinTo(b *testing.B, m *mesh.Mesh, adj mesh.Adjacency) {
	b.ReportAllocs()
	var out *mesh.Mesh
	var gap Measured
	for b.Loop() {
		var err error
		if out, gap, err = Thin(context.Background(), m, adj, 0.0215, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(out.Triangles)), "triangles")
	b.ReportMetric(gap.MaxDistance, "max")
	b.ReportMetric(gap.MeanDistance, "mean")
}
