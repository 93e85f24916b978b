package mend

import (
	"context"
	"runtime"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func BenchmarkInspect(b *testing.B) {
	m := solidtest.Bumpy(100, 1_000_000)
	adj := m.Adjacency()
	for _, crossings := range []bool{false, true} {
		name := "Quick"
		if crossings {
			name = "Crossings"
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f, err := Survey(context.Background(), m, adj, crossings)
				if err != nil || !f.clean() {
					b.Fatal(err, f.Counts)
				}
			}
		})
	}
}

// finned is m with five fins of one facet on edges of its skin, which bound nothing: it has to be built anew.
func finned(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Points: slices.Clone(m.Points), Triangles: slices.Clone(m.Triangles)}
	for k := range 5 {
		i := (2*k + 1) * len(m.Triangles) / 10
		a, b, c := m.Corners(i)
		t := m.Triangles[i]
		up := b.Sub(a).Cross(c.Sub(a)).Unit().Scale(b.Sub(a).Len())
		out.Triangles = append(out.Triangles, mesh.Triangle{t[0], t[1], int32(len(out.Points))})
		out.Points = append(out.Points, mesh.PointOf(a.Add(up)))
	}
	return out
}

// tangle is a piece of about n facets, 300 units long, of two shells pushed into one another, with a hole, and with fins.
func tangle(n int) *mesh.Mesh {
	big := solidtest.Bumpy(70, n*3/4)
	m := finned(solidtest.Join(holed(big, geom.Vec{Z: 75}, 25), solidtest.Moved(solidtest.Sphere(50, n/4), geom.Vec{X: 60, Y: 20})))
	s := m.Box().Size()
	f := 300 / max(s.X, s.Y, s.Z)
	return solidtest.Stretch(m, f, f, f)
}

func benchmarkMend(b *testing.B, n int) {
	m := tangle(n)
	adj := m.Adjacency()
	var most uint64
	for b.Loop() {
		r, err := Mend(context.Background(), m, adj, Settings{MmPerUnit: 1, Resolution: 1}, nil)
		if err != nil || !r.Rebuilt {
			b.Fatal(err)
		}
		var s runtime.MemStats
		runtime.ReadMemStats(&s)
		most = max(most, s.Sys)
	}
	b.ReportMetric(float64(len(m.Triangles)), "facets")
	b.ReportMetric(float64(most)/(1<<20), "MiB")
}

func BenchmarkMend(b *testing.B)      { benchmarkMend(b, 1_000_000) }
func BenchmarkMendLarge(b *testing.B) { benchmarkMend(b, 3_000_000) }
