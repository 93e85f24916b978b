package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// benchGrid is a lumpy piece of a million triangles, 400 mm long, at 200 cells: 200 × 150 × 125.
func benchMesh() *mesh.Mesh {
	m := solidtest.Bumpy(100, 1_000_000)
	s := m.Box().Size()
	return solidtest.Stretch(m, 400/s.X, 300/s.Y, 250/s.Z)
}

func benchGrid(b *testing.B) *Grid {
	b.Helper()
	g, err := Build(context.Background(), benchMesh(), 200, nil)
	if err != nil {
		b.Fatal(err)
	}
	return g
}

// benchStand turns the grid's piece a little and stands it on its lowest corner of the box.
func benchStand(g *Grid) (geom.Placement, float64) {
	pl := geom.Placement{Turn: geom.TurnXYZ(20, 10, 30), Scale: 1}
	b := g.standBox(pl)
	pl.Shift.Z = -b.Min.Z
	return pl, b.Size().Z
}

func layersOf(height, thickness float64) []Slab {
	var out []Slab
	for z := 0.0; z < height; z += thickness {
		out = append(out, Slab{z, math.Min(z+thickness, height)})
	}
	return out
}

func BenchmarkField(b *testing.B) {
	m := benchMesh()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Build(context.Background(), m, 200, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(m.Triangles)), "triangles")
}

func BenchmarkTable(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	for b.Loop() {
		if _, err := NewTable(context.Background(), g, pl, h); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(g.depth)), "nodes")
}

func BenchmarkCoreVolume(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	t, err := NewTable(context.Background(), g, pl, h)
	if err != nil {
		b.Fatal(err)
	}
	z := 0.0
	for b.Loop() {
		t.CoreVolume(z, z+16, 12)
		z = math.Mod(z+16, h)
	}
}

// BenchmarkWallChange is what a move of the wall slider costs: one new outline and the weight of every layer.
func BenchmarkWallChange(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	t, err := NewTable(context.Background(), g, pl, h)
	if err != nil {
		b.Fatal(err)
	}
	slabs, wall := layersOf(h, 16), 10.0
	for b.Loop() {
		g.straightCore(pl, h/2, h/2+16, wall, 1.5)
		for _, s := range slabs {
			t.CoreVolume(s.Bottom, s.Top, wall)
		}
		if wall += 0.1; wall > 30 {
			wall = 10
		}
	}
}

func BenchmarkCoreSection(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	for b.Loop() {
		g.CoreSection(pl, h/2, 12, 1.5)
	}
}

func BenchmarkStraightCores(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	slabs := layersOf(h, 16)
	for b.Loop() {
		if _, err := g.StraightCores(context.Background(), pl, slabs, 12, 1.5, 100); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMeasure(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	var block Block
	for b.Loop() {
		l, err := NewLattice(context.Background(), g, pl, g.standBox(pl), 12)
		if err != nil {
			b.Fatal(err)
		}
		for _, s := range layersOf(h, 16) {
			if block.Cut(l, s.Bottom, s.Top) {
				block.Measure()
			}
		}
	}
}

func BenchmarkRim(b *testing.B) {
	g := benchGrid(b)
	pl, h := benchStand(g)
	core, outline := g.CoreSection(pl, h/2, 12, 0.5), g.CoreSection(pl, h/2, 0, 0.25)
	for b.Loop() {
		NarrowestRim(core, outline)
	}
	b.ReportMetric(float64(len(sidesOf(core))+len(sidesOf(outline))), "sides")
}

func BenchmarkOpenness(b *testing.B) {
	m := benchMesh()
	g := benchGrid(b)
	for b.Loop() {
		g.Openness(m.Points, nil)
	}
	b.ReportMetric(float64(len(m.Points)), "points")
}
