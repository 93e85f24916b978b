package picture

import (
	"context"
	"image"
	"math"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A bench is a torus that stands, with the figures of the default settings.
func bench(t *testing.T) (*job.Standing, *job.Figures, *stock.Catalogue) {
	t.Helper()
	c := stocktest.Catalogue(t)
	ctx := context.Background()
	p := job.NewPiece("ring", solidtest.Torus(80, 43, 60, 30), mesh.Raw{})
	s := job.Default(c)
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	grid, err := p.Hollow(ctx, func(float64) {})
	if err != nil {
		t.Fatal(err)
	}
	if st, err = st.WithField(ctx, grid); err != nil {
		t.Fatal(err)
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	return st, f, c
}

// SetDown puts a mesh where stack.Place does, which goes another way about it.
func TestSetDownIsWhereItWillStand(t *testing.T) {
	m := solidtest.Ellipsoid(30, 50, 20, 2000)
	for _, s := range []stack.Stand{{Turn: geom.NoTurn(), Scale: 1}, {Turn: geom.TurnXYZ(20, -50, 130), Scale: 2.5}} {
		placed, err := stack.Place(context.Background(), m, s)
		if err != nil {
			t.Fatal(err)
		}
		got := SetDown(m, s)
		if math.Abs(got.Height-placed.Box.Size().Z) > 1e-3 {
			t.Errorf("height %v, want %v", got.Height, placed.Box.Size().Z)
		}
		p := geom.Vec{X: 3, Y: -7, Z: 11}
		if d := got.Placement.Apply(p).Sub(placed.Placement.Apply(p)).Len(); d > 1e-3 {
			t.Errorf("a point lies %v mm off", d)
		}
	}
}

// The two ways to a view agree: from figures, and from settings alone.
func TestViewsAgree(t *testing.T) {
	st, f, c := bench(t)
	for _, sight := range []Sight{
		{Camera: look.Camera{Zoom: 1}, Size: image.Pt(10, 10), Layer: 3},
		{Camera: look.Camera{Zoom: 1}, Size: image.Pt(10, 10), Layer: 3, CutAway: true},
		{Camera: look.Camera{Zoom: 1}, Size: image.Pt(10, 10), Layer: 99, CutAway: true, Lift: 12},
	} {
		a := View(st, f, sight)
		b, band := ViewOf(Place{st.Placed.Placement, st.Height()}, f.For, c, st.Grid, sight)
		if a.Cut != b.Cut || a.Lift != b.Lift || len(a.Joints) != len(b.Joints) || a.Core != b.Core {
			t.Errorf("%+v: %+v and %+v", sight, a, b)
		}
		l := f.Layers[min(sight.Layer, len(f.Layers))-1]
		if band.From != l.Bottom || band.To != l.Top {
			t.Errorf("picked %v, want %v to %v", band, l.Bottom, l.Top)
		}
		if sight.CutAway && a.Cut != l.Top {
			t.Errorf("cut at %v, want %v", a.Cut, l.Top)
		}
		if sight.Lift > 0 && len(a.Joints) != len(f.Layers)-1 {
			t.Errorf("%d joints in %d layers", len(a.Joints), len(f.Layers))
		}
		if hollow := a.Core.Depth != nil; hollow != (sight.CutAway || sight.Lift > 0) {
			t.Errorf("%+v: hollow %v", sight, hollow)
		}
	}
	core := View(st, f, Sight{CutAway: true, Layer: 2}).Core
	if core.Bottom != f.Layers[1].Bottom || core.Top != f.Layers[len(f.Layers)-2].Top || core.Wall != f.For.Wall {
		t.Errorf("the hollow is %+v", core)
	}
}

func TestWoodIsThePanelAsSkimmed(t *testing.T) {
	_, f, c := bench(t)
	w := Wood(f, c)
	sum := 0.0
	for _, v := range w.Veneers {
		sum += v.Thickness
	}
	if math.Abs(sum-f.Thickness) > 1e-6 || w.Bottom != 0 {
		t.Errorf("veneers come to %v from %v, a layer is %v", sum, w.Bottom, f.Thickness)
	}
	s := f.For
	s.FirstJoint = 5
	if got := WoodOf(s, c).Bottom; math.Abs(got-(5-f.Thickness)) > 1e-9 {
		t.Errorf("with the first joint at 5 the first panel begins at %v", got)
	}
	s.Finish = "bare"
	if got := WoodOf(s, c).Finish; got.Shift != 0 || got.Chroma != 1 {
		t.Errorf("bare wood has a coat of %v", got)
	}
	if w.Finish.Shift <= 0 {
		t.Error("varnish shows no coat")
	}
}

func TestSheetsSayWhatTheFiguresSay(t *testing.T) {
	st, f, c := bench(t)
	p, err := job.Plan(context.Background(), st, f, 2)
	if err != nil {
		t.Fatal(err)
	}
	v := Layer(p, f, nil, true)
	if v.Number != 2 || v.Count != len(f.Layers) || !v.Turned || len(v.Below) == 0 || len(v.Parts) != 1 || len(v.Core) == 0 {
		t.Errorf("%d of %d, turned %v, below %d, parts %d, core %d", v.Number, v.Count, v.Turned, len(v.Below), len(v.Parts), len(v.Core))
	}
	if Layer(p, f, nil, false).Below != nil {
		t.Error("the layer below shows unasked")
	}
	if got, want := Caption(f.Layers[1], len(f.Layers), unit.Metric), "Layer 2 of 6 · 16 to 32 mm · turned 90°"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	facts := strings.Join(Facts(p, f, nil, c, unit.Metric), "\n")
	for _, want := range []string{"size 2", "joint below", "above", "grain ", "1 part", "core ", "estimate"} {
		if !strings.Contains(facts, want) {
			t.Errorf("%q is not among the facts:\n%s", want, facts)
		}
	}
	made := &workshop.LayerParts{Parts: make([]geom.Box2, 2), Pieces: 3}
	if facts := strings.Join(Facts(p, f, made, c, unit.Metric), "\n"); !strings.Contains(facts, "2 parts in 3 pieces") || len(Layer(p, f, made, false).Parts) != 2 {
		t.Errorf("of two parts, one of them split, the sheet says:\n%s", facts)
	}
	k := Stick(st, f, c, 4)
	if len(k.Layers) != len(f.Layers) || k.Picked != 4 || len(k.Veneers) == 0 || !(k.Outline.Area() > 0) {
		t.Errorf("the stick has %d layers, %d veneers, a silhouette of %.0f mm²", len(k.Layers), len(k.Veneers), k.Outline.Area())
	}
}

func TestFacetNormals(t *testing.T) {
	m := solidtest.Box(1, 2, 3)
	for i := range m.Triangles {
		n, ok := FacetNormal(m, i)
		a, b, c := m.Corners(i)
		out := a.Add(b).Add(c).Scale(1.0 / 3).Sub(geom.Vec{X: 0.5, Y: 1, Z: 1.5})
		if !ok || n.Dot(out) <= 0 {
			t.Errorf("facet %d points inwards: %v", i, n)
		}
	}
	if _, ok := FacetNormal(m, len(m.Triangles)); ok {
		t.Error("a facet that is not there has a normal")
	}
}
