package mesh_test

import (
	"bytes"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// million is a scan of a million triangles in the worst order, as binary STL.
func million(b *testing.B) []byte {
	b.Helper()
	var out bytes.Buffer
	if err := mesh.WriteSTL(&out, solidtest.Shuffle(solidtest.Bumpy(200, 1_000_000), 1)); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

// BenchmarkLoadSTL is all that happens between a file's bytes and what is said about it.
func BenchmarkLoadSTL(b *testing.B) {
	file := million(b)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		m, _, err := mesh.Read(bytes.NewReader(file), int64(len(file)), "bumpy.stl")
		if err != nil {
			b.Fatal(err)
		}
		if f := mesh.Inspect(m, m.Adjacency()); !f.Solid() {
			b.Fatalf("not solid: %+v", f)
		}
	}
}

func BenchmarkAdjacency(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	b.Run("coherent", func(b *testing.B) { benchmarkAdjacency(b, m) })
	b.Run("shuffled", func(b *testing.B) { benchmarkAdjacency(b, solidtest.Shuffle(m, 1)) })
}

func benchmarkAdjacency(b *testing.B, m *mesh.Mesh) {
	b.ReportAllocs()
	for b.Loop() {
		m.Adjacency()
	}
}

func BenchmarkInspect(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	adj := m.Adjacency()
	b.ReportAllocs()
	for b.Loop() {
		mesh.Inspect(m, adj)
	}
}

func BenchmarkVolume(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	for b.Loop() {
		m.Volume()
	}
}

func BenchmarkThin(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	b.ReportAllocs()
	var out *mesh.Mesh
	for b.Loop() {
		out = mesh.Thin(m, 1.8)
	}
	b.ReportMetric(float64(len(out.Triangles)), "triangles")
}

func BenchmarkBumpy(b *testing.B) {
	for b.Loop() {
		solidtest.Bumpy(200, 1_000_000)
	}
}
