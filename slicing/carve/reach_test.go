package carve_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

func place(t testing.TB, m *mesh.Mesh) *stack.Placed {
	t.Helper()
	p, err := stack.Place(context.Background(), m, stack.Stand{Turn: geom.NoTurn(), Scale: 1})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func layers(t testing.TB, height, thickness float64) []stack.Slab {
	t.Helper()
	s, err := stack.Layers(height, thickness, thickness)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func reach(t testing.TB, m *mesh.Mesh, slabs []stack.Slab, o carve.Options) []carve.LayerColumns {
	t.Helper()
	c, err := carve.Reach(context.Background(), m, slabs, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func sums(cs []carve.LayerColumns) (wood, outside, core float64) {
	for _, c := range cs {
		wood += c.Wood
		outside += c.Outside.Volume
		core += c.Core.Volume
	}
	return wood, outside, core
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %.3g %%", what, got, want, share*100)
	} else {
		t.Logf("%s: got %.6g, want %.6g, off %.4f %%", what, got, want, (got/want-1)*100)
	}
}

func bench(b *testing.B, step float64, hollow bool) {
	p, slabs := big(b)
	o := carve.Options{Step: step}
	if hollow {
		g, err := field.Build(context.Background(), p.Mesh, 256, nil)
		if err != nil {
			b.Fatal(err)
		}
		o.Hollow = carve.Carved{Grid: g, Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1}, Wall: 20,
			Bottom: slabs[0].Top, Top: slabs[len(slabs)-1].Bottom}
	}
	var cs []carve.LayerColumns
	for b.Loop() {
		cs = reach(b, p.Mesh, slabs, o)
	}
	wood, outside, core := sums(cs)
	b.ReportMetric(wood/1000, "wood-cm3")
	b.ReportMetric(outside/1000, "trapped-cm3")
	b.ReportMetric(core/1000, "core-cm3")
}

// big is a piece of a million triangles, 400 x 300 x 250 mm, in 16 layers.
func big(t testing.TB) (*stack.Placed, []stack.Slab) {
	m := solidtest.Bumpy(100, 1_000_000)
	size := m.Box().Size()
	p := place(t, solidtest.Stretch(m, 400/size.X, 300/size.Y, 250/size.Z))
	return p, layers(t, p.Box.Size().Z, 250.0/16)
}

func BenchmarkReach(b *testing.B) {
	b.Run("1mm", func(b *testing.B) { bench(b, 1, false) })
	b.Run("0.5mm", func(b *testing.B) { bench(b, 0.5, false) })
	b.Run("1mm-hollow", func(b *testing.B) { bench(b, 1, true) })
	b.Run("0.5mm-hollow", func(b *testing.B) { bench(b, 0.5, true) })
}

func BenchmarkClosing(b *testing.B) {
	p, slabs := big(b)
	cs := reach(b, p.Mesh, slabs, carve.Options{Step: 0.5})
	w := carve.Work{Cutter: stock.Cutter{Shape: stock.Ball, Diameter: 6.35}, Past: 0.5}
	var cuts []carve.LayerCut
	for b.Loop() {
		var err error
		if cuts, err = carve.Cuts(context.Background(), cs, w, nil); err != nil {
			b.Fatal(err)
		}
	}
	most := 0.0
	for _, c := range cuts {
		most = max(most, c.Sides[carve.Up].Residue.Max, c.Sides[carve.Down].Residue.Max)
	}
	b.ReportMetric(most, "residue-mm")
}

func BenchmarkCheck(b *testing.B) {
	p, slabs := big(b)
	cs := reach(b, p.Mesh, slabs, carve.Options{Step: 0.5})
	w := carve.Work{Cutter: ball, Past: 0.5}
	cuts, err := carve.Cuts(context.Background(), cs, w, nil)
	if err != nil {
		b.Fatal(err)
	}
	task := carve.Task{Layers: cs, Work: w, Cuts: cuts, Limits: carve.UsualLimits()}
	for b.Loop() {
		if _, err := task.Check(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
