package arrange

import (
	"testing"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// warty is a bumpy piece of about n facets with some small balls that run through its skin.
func warty(n, balls int) *mesh.Mesh {
	m := solidtest.Bumpy(100, n)
	all := []*mesh.Mesh{m}
	for i := range balls {
		at := m.Points[(2*i+1)*len(m.Points)/(2*balls)].Vec()
		all = append(all, solidtest.Moved(solidtest.Sphere(1.5, 400), at.Add(geom.Vec{X: 0.01, Y: 0.02, Z: 0.03})))
	}
	return solidtest.Join(all...)
}

func BenchmarkArrange(b *testing.B) {
	m := warty(1_000_000, 12)
	tree, err := boxtree.New(b.Context(), m)
	if err != nil {
		b.Fatal(err)
	}
	pairs, err := Crossings(b.Context(), tree, false)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		r, err := Resolve(b.Context(), m)
		if err != nil {
			b.Fatal(err)
		}
		if r.Lines == 0 {
			b.Fatal("nothing was cut")
		}
	}
	b.ReportMetric(float64(len(pairs)), "crossings")
}
