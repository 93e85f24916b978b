package stack

import (
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// million is the piece of the benchmarks: 1 million triangles in spatial order, standing some 300 mm high.
func million(b *testing.B) *mesh.Mesh {
	return placed(b, solidtest.Bumpy(150, 1_000_000), geom.TurnXYZ(10, 20, 0), 1).Mesh
}

func BenchmarkPlace(b *testing.B) {
	m := million(b)
	for b.Loop() {
		if _, err := Place(ctx, m, Stand{geom.TurnXYZ(30, 40, 50), 1.1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkProfile(b *testing.B) {
	m := million(b)
	for b.Loop() {
		profileOf(b, m)
	}
}

func BenchmarkLayerOfProfile(b *testing.B) {
	p := profileOf(b, million(b))
	for b.Loop() {
		p.Volume(100, 116)
	}
}

func BenchmarkSections(b *testing.B) {
	m := million(b)
	adj := m.Adjacency()
	height := m.Box().Max.Z
	planes := make([]float64, 240)
	for i := range planes {
		planes[i] = height * (float64(i) + 0.5) / 240
	}
	for b.Loop() {
		if _, err := NewSlicer(m, adj).Sections(ctx, planes); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDivide(b *testing.B) {
	m := million(b)
	s := NewSlicer(m, m.Adjacency())
	slabs, err := Layers(m.Box().Max.Z, m.Box().Max.Z/16+1e-3, m.Box().Max.Z/32)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Divide(ctx, s, slabs); err != nil {
			b.Fatal(err)
		}
	}
}
