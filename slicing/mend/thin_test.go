package mend

import (
	"context"
	"grainstack/slicing/geom"
	"math"
	"testing"
	"time"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func BenchmarkThinTo(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	adj := m.Adjacency()
	b.ReportAllocs()
	var out *mesh.Mesh
	var gap Measured
	for b.Loop() {
		var err error
		if out, gap, err = Thin(context.Background(), m, adj, 0.04, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(out.Triangles)), "triangles")
	b.ReportMetric(gap.MaxDistance, "max")
	b.ReportMetric(gap.MeanDistance, "mean")
}

func TestX(t *testing.T) {
	m := solidtest.Bumpy(200, 1_000_000)
	adj := m.Adjacency()
	start := time.Now()
	th := newThinning(m, adj, 0.04)
	t.Log("new", time.Since(start), len(th.triangles))
	for r := range thinRounds {
		start = time.Now()
		th.round(context.Background(), r)
		t.Log(time.Since(start), len(th.triangles))
	}
	out := th.mesh()
	start = time.Now()
	gap, _ := measureGap(context.Background(), m, out)
	t.Log(time.Since(start), gap)
	f := mesh.Inspect(out, out.Adjacency())
	t.Logf("%+v %v", f, f.Solid())
	t.Log(m.Volume())
}

func TestY(t *testing.T) {
	m := solidtest.Bumpy(200, 1_000_000)
	adj := m.Adjacency()
	out, _, _ := Thin(context.Background(), m, adj, 0.04, nil)
	g, _ := newThinGrid(context.Background(), m)
	h, _ := newThinGrid(context.Background(), out)
	var s thinSum
	s.look(context.Background(), h, len(m.Points), func(i int) geom.Vec { return m.Points[i].Vec() })
	t.Log("old to new", math.Sqrt(s.most), s.sum/float64(s.n))
	cnt := func(n int, f func(i int) geom.Vec) {
		var s thinSum
		s.look(context.Background(), g, n, f)
		k := 0
		for i := range n {
			if g.distance2(f(i)) > 0.04*0.04 {
				k++
			}
		}
		t.Log(math.Sqrt(s.most), s.sum/float64(s.n), k, n)
	}
	cnt(len(out.Points), func(i int) geom.Vec { return out.Points[i].Vec() })
	cnt(len(out.Triangles), func(i int) geom.Vec { a, b, c := out.Corners(i); return a.Add(b).Add(c).Scale(1. / 3) })
	l := 0.0
	for i := range out.Triangles {
		a, b, _ := out.Corners(i)
		l = max(l, b.Sub(a).Len())
	}
	t.Log(l)
}
