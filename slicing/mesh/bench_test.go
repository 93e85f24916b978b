package mesh_test

import (
	"bytes"
	"encoding/binary"
	"testing"

	"github.com/hschendel/stl"

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
		out = mesh.Thin(m, 4)
	}
	b.ReportMetric(float64(len(out.Triangles)), "triangles")
}

func BenchmarkBumpy(b *testing.B) {
	for b.Loop() {
		solidtest.Bumpy(200, 1_000_000)
	}
}

// BenchmarkLoadOther reads the million from the other kinds of file.
func BenchmarkLoadOther(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	for _, tt := range []struct {
		name string
		file []byte
	}{
		{"text-stl", textSTL(b, m)},
		{"obj", objText(m, "%[1]d", false)},
		{"ply", plyBinary(m, binary.LittleEndian)},
		{"ply-text", plyText(m)},
		{"off", offText(m, "OFF\n", "")},
	} {
		b.Run(tt.name, func(b *testing.B) {
			b.SetBytes(int64(len(tt.file)))
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := read(tt.file); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSTLPackage is the STL package on the same files, facets only, for comparison.
func BenchmarkSTLPackage(b *testing.B) {
	m := solidtest.Bumpy(200, 1_000_000)
	for _, tt := range []struct {
		name string
		file []byte
	}{{"binary", binarySTL(b, m)}, {"text", textSTL(b, m)}} {
		b.Run(tt.name, func(b *testing.B) {
			b.SetBytes(int64(len(tt.file)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := stl.ReadAll(bytes.NewReader(tt.file)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
