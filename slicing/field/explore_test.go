package field

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func brute(m *mesh.Mesh, p geom.Vec) float64 {
	best := math.Inf(1)
	v := vec{p.X, p.Y, p.Z}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		f := facet{vec{a.X, a.Y, a.Z}, vec{b.X, b.Y, b.Z}, vec{c.X, c.Y, c.Z}}
		q, _ := f.nearest(v)
		q = q.sub(v)
		best = min(best, q.dot(q))
	}
	return math.Sqrt(best)
}

func TestExplore(t *testing.T) {
	ms := map[string]*mesh.Mesh{
		"torus":  solidtest.Torus(40, 12, 64, 32),
		"torusfine":  solidtest.Torus(40, 12, 512, 256),
		"sphere": solidtest.Sphere(50, 20000),
		"bumpy":  solidtest.Bumpy(50, 100000),
		"box":    solidtest.Box(100, 70, 40),
		"boxturn":    solidtest.Turned(solidtest.Box(100, 70, 40), geom.TurnXYZ(20,30,40)),
		"frustum": solidtest.Frustum(40, 20, 60, 64),
	}
	for name, m := range ms {
		g, err := Build(context.Background(), m, 100, nil)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewSource(1))
		var worst, sum, n float64
		var big int
		for range 3000 {
			i := r.Intn(len(g.depth))
			d := float64(g.depth[i])
			if d < -2*g.step {
				continue
			}
			p := geom.Vec{X: float64(i % g.nx), Y: float64(i / g.nx % g.ny), Z: float64(i / g.nx / g.ny)}.Scale(g.step).Add(g.origin)
			e := (math.Abs(d) - brute(m, p)) / g.step
			worst = max(worst, e)
			if e < -1e-4 { fmt.Println("under", e) }
			if e > 1e-3 { big++ }
			sum += e
			n++
		}
		fmt.Printf("%-10s n %.0f mean %.6f worst %.5f big %d steps\n", name, n, sum/n, worst, big)
	}
	for _, cells := range []int{64, 128, 200} {
		m := solidtest.Sphere(50, 1000000)
		g, _ := Build(context.Background(), m, cells, nil)
		for _, turn := range []geom.Turn{geom.NoTurn(), geom.TurnXYZ(20, 10, 30)} {
			tb, err := NewTable(context.Background(), g, geom.Placement{Turn: turn, Scale: 1, Shift: geom.Vec{Z: 50}}, 100)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range []float64{0, 4, 8, 20, 40} {
				want := 4 * math.Pi / 3 * math.Pow(50-w, 3)
				got := tb.CoreVolume(0, 100, w)
				shell := 4*math.Pi/3*125000 - want
				fmt.Printf("cells %d wall %v core %.0f want %.0f err %.4f%% of shell %.4f%% surf err %.3f%% area %.3f%% mom %v deep %.3f\n", cells, w, got, want, (got/want-1)*100, (want-got)/shell*100,
					(tb.CoreSurface(0, 100, w)/(4*math.Pi*(50-w)*(50-w))-1)*100, (tb.CoreArea(50, w)/(math.Pi*(50-w)*(50-w))-1)*100, tb.CoreMoment(0, 100, w).Scale(1/got), g.Deepest())
			}
		}
	}
	{
		m := solidtest.Box(100, 70, 40)
		g, _ := Build(context.Background(), m, 128, nil)
		tb, _ := NewTable(context.Background(), g, geom.Placement{Turn: geom.NoTurn(), Scale: 1}, 40)
		for _, w := range []float64{0, 3, 8, 15, 19} {
			want := (100 - 2*w) * (70 - 2*w) * (40 - 2*w)
			fmt.Printf("box %v: %.1f want %.1f  %.4f%% deep %v\n", w, tb.CoreVolume(0, 40, w), want, (tb.CoreVolume(0, 40, w)/want-1)*100, g.Deepest())
		}
		for _, w := range []float64{0, 3, 8, 15} {
			r := g.CoreSection(geom.Placement{Turn: geom.NoTurn(), Scale: 1}, 20, w, 1.5)
			fmt.Println("section", len(r), r.Area(), (100-2*w)*(70-2*w))
		}
	}
}
