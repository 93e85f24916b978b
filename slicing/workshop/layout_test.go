package workshop_test

import (
	"context"
	"encoding/json"
	"math"
	"testing"

	foreign "github.com/peterstace/simplefeatures/geom"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// polygon is a region for an independent geometry library.
func polygon(g geom.Region) foreign.Geometry {
	var rings []foreign.LineString
	for _, r := range g {
		var xy []float64
		for i := range len(r) + 1 {
			xy = append(xy, r[i%len(r)].X, r[i%len(r)].Y)
		}
		rings = append(rings, foreign.NewLineString(foreign.NewSequence(xy, foreign.DimXY)))
	}
	return foreign.NewPolygon(rings).AsGeometry()
}

func rectangle(b geom.Box2) foreign.Geometry {
	return polygon(geom.Region{{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}})
}

func dot(p geom.Vec2) foreign.Geometry { return foreign.XY{X: p.X, Y: p.Y}.AsPoint().AsGeometry() }

// onPanel is a part's shadow where it lies, carried there by this test's own arithmetic.
func onPanel(p *workshop.Part, at panel.Placed) geom.Region {
	sin, cos := math.Sincos(float64(at.TurnDeg) * math.Pi / 180)
	out := make(geom.Region, len(p.Shadow))
	for i, r := range p.Shadow {
		for _, v := range r {
			out[i] = append(out[i], geom.Vec2{X: cos*v.X - sin*v.Y + at.At.X, Y: sin*v.X + cos*v.Y + at.At.Y})
		}
	}
	return out
}

// legal measures a workshop's layout with the independent library: every part once, its grain along the panel, within the
// edges, and as far from parts, dowels and clamps, on both sides, as the cutter asks. A tab of a held part begins at the
// part, and what is behind the cleared gap is neither a part nor another part's gap.
func legal(t *testing.T, w *workshop.Workshop, clamps []geom.Box2) {
	t.Helper()
	const tolerance = 1e-5
	seen := map[panel.ID]bool{}
	for _, p := range w.Layout.Panels {
		laid := make([]foreign.Geometry, len(p.Placed))
		for i, at := range p.Placed {
			part, ok := w.Part(at.Part)
			if !ok || seen[at.Part] || part.Turned != (at.TurnDeg%180 == 90) {
				t.Fatalf("%v is unknown, laid twice, or lies across the grain", at.Part)
			}
			seen[at.Part] = true
			g := onPanel(part, at)
			laid[i] = polygon(g)
			b := g.Box()
			if edge := min(b.Min.X, b.Min.Y, w.For.PanelX-b.Max.X, w.For.PanelY-b.Max.Y); edge < w.Edge()-tolerance {
				t.Errorf("%v is %.3f mm from the edge", at.Part, edge)
			}
			for k, other := range laid[:i] {
				if d, ok := foreign.Distance(laid[i], other); !ok || d < w.Margin-tolerance {
					t.Errorf("%v and %v are %.3f mm apart", at.Part, p.Placed[k].Part, d)
				}
			}
			for _, h := range w.Register.Dowels {
				if d, _ := foreign.Distance(laid[i], dot(h.At)); d-h.Diameter/2 < w.Margin-tolerance {
					t.Errorf("%v is %.3f mm from a dowel", at.Part, d-h.Diameter/2)
				}
			}
			for _, c := range clamps {
				if d, _ := foreign.Distance(laid[i], rectangle(c)); d < w.Margin-tolerance {
					t.Errorf("%v is %.3f mm from a clamp", at.Part, d)
				}
			}
		}
		for i, at := range p.Placed {
			if part, _ := w.Part(at.Part); part.Held {
				tabsStand(t, w, part, at, laid, i)
			}
		}
	}
	if len(seen) != len(w.Parts)-len(w.Layout.TooLarge) {
		t.Errorf("%d of %d parts lie on panels", len(seen), len(w.Parts))
	}
}

func tabsStand(t *testing.T, w *workshop.Workshop, p *workshop.Part, at panel.Placed, laid []foreign.Geometry, own int) {
	t.Helper()
	const foot = 2.0
	for _, tab := range p.Tabs {
		root, end := at.Apply(tab.At), at.Apply(tab.At.Add(tab.Out.Scale(w.Margin+foot)))
		if d, _ := foreign.Distance(laid[own], dot(root)); d > 0.01 {
			t.Errorf("%v: a tab begins %.3f mm off the part", p.ID, d)
		}
		if end.X < 0 || end.Y < 0 || end.X > w.For.PanelX || end.Y > w.For.PanelY {
			t.Errorf("%v: a tab ends off the panel", p.ID)
		}
		for k, other := range laid {
			want := w.Margin
			if k == own {
				want -= foot
			}
			if d, _ := foreign.Distance(other, dot(end)); d < want-0.01 {
				t.Errorf("%v: a tab ends in the gap round part %d of the panel, %.2f mm from it", p.ID, k, d)
			}
		}
	}
}

// TestLayoutsIndependently: the demo, and a body of two legs between clamps, as another library measures them.
func TestLayoutsIndependently(t *testing.T) {
	w, _ := demoWorkshop(t)
	legal(t, w, nil)

	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	var err error
	if s.Shop.PanelClamps, err = job.ParsePanelClamps("front:150:80x45, back:450, left:480:60x20", unit.MM); err != nil {
		t.Fatal(err)
	}
	m := prism(geom.Ring{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 48}, {X: 140, Y: 48}, {X: 140, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 96}, {X: 0, Y: 96}}, 160)
	w, _ = laidOut(t, m, s, job.Places{})
	// Where the clamps are, by hand, and where side A lies under them once it is turned about the line at y = 300.
	clamps := []geom.Box2{
		{Min: geom.Vec2{X: 110, Y: 0}, Max: geom.Vec2{X: 190, Y: 45}}, {Min: geom.Vec2{X: 110, Y: 555}, Max: geom.Vec2{X: 190, Y: 600}},
		{Min: geom.Vec2{X: 425, Y: 570}, Max: geom.Vec2{X: 475, Y: 600}}, {Min: geom.Vec2{X: 425, Y: 0}, Max: geom.Vec2{X: 475, Y: 30}},
		{Min: geom.Vec2{X: 0, Y: 450}, Max: geom.Vec2{X: 20, Y: 510}}, {Min: geom.Vec2{X: 0, Y: 90}, Max: geom.Vec2{X: 20, Y: 150}},
	}
	legal(t, w, clamps)
	badly := 0 // crowded between clamps: told, and a few at the most
	for _, p := range w.Parts {
		if p.Held {
			continue
		}
		if badly++; !toldBadlyHeld(w, &p) {
			t.Errorf("%v is not held, and nobody is told", p.ID)
		}
	}
	if badly > 2 {
		t.Errorf("%d parts are not held", badly)
	}
}

func TestPanelClamps(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []job.PanelClamp
		ok   bool
	}{
		{"", nil, true},
		{"left:300", []job.PanelClamp{{Edge: job.Left, At: 300, Wide: 50, Deep: 30}}, true},
		{"Right:1 in, back:12 cm:60x40", []job.PanelClamp{{Edge: job.Right, At: 25.4, Wide: 50, Deep: 30}, {Edge: job.Back, At: 120, Wide: 60, Deep: 40}}, true},
		{"left", nil, false}, {"top:3", nil, false}, {"left:3:4", nil, false}, {"left:x", nil, false}, {"left:3:4x5:6", nil, false},
		{"left:1,left:2,left:3,left:4,left:5,left:6,left:7,left:8,left:9", nil, false},
	} {
		got, err := job.ParsePanelClamps(tt.text, unit.MM)
		if (err == nil) != tt.ok {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		for i, c := range tt.want {
			if got[i] != c {
				t.Errorf("%q: clamp %d is %+v, want %+v", tt.text, i, got[i], c)
			}
		}
		if len(got.List()) != len(tt.want) {
			t.Errorf("%q: %d clamps, want %d", tt.text, len(got.List()), len(tt.want))
		}
		for _, u := range []unit.System{unit.Metric, unit.Inch} {
			near, err := job.ParsePanelClamps(got.Text(u), u.Unit())
			for i, c := range near.List() {
				if w := got[i]; err != nil || c.Edge != w.Edge || math.Abs(c.At-w.At) > 0.0127 || math.Abs(c.Wide-w.Wide) > 0.0127 || math.Abs(c.Deep-w.Deep) > 0.0127 {
					t.Errorf("%q is written %q, which is %+v: %v", tt.text, got.Text(u), c, err)
				}
			}
			if len(near.List()) != len(tt.want) {
				t.Errorf("%q is written %q", tt.text, got.Text(u))
			}
		}
		text, err := json.Marshal(got)
		var again job.PanelClamps
		if err != nil || json.Unmarshal(text, &again) != nil || again != got {
			t.Errorf("%q written and read is %+v: %v", tt.text, again, err)
		}
	}
	s := job.Default(stocktest.Catalogue(t))
	s.Shop.PanelClamps[0] = job.PanelClamp{Edge: job.Left, At: math.NaN(), Wide: 1, Deep: 1}
	if s.Check(stocktest.Catalogue(t)) == nil {
		t.Error("a clamp that is nowhere is taken")
	}
}

// TestUsualBody (common practice, no source): 15 layers of 16 mm of a body some 400 mm wide lie on about 10 panels of
// 600 × 600 mm, and two boards of 4 × 8 ft give 16 such panels. The bodies are those for which that is meant: as wide as
// said, nearly as deep, and hollow; one rounded like a torso, one nearly a block.
func TestUsualBody(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
	}{
		{"rounded", solidtest.Ellipsoid(200, 190, 120, 40000)},
		{"tapered", solidtest.Frustum(200, 140, 240, 360)},
	} {
		w, _ := laidOut(t, tt.m, s, job.Places{})
		n := w.Panels()
		t.Logf("%s: %d layers on %d panels of %d boards", tt.name, len(w.Figures.Layers), n, w.Boards.Count())
		if len(w.Figures.Layers) != 15 || n < 8 || n > 12 {
			t.Errorf("%s: %d layers on %d panels, want 15 on about 10", tt.name, len(w.Figures.Layers), n)
		}
		if len(w.Boards) != 1 || w.Boards[0].Saw.PerBoard != 8 || w.Boards.Count() != 2 {
			t.Errorf("%s: %d boards of %d panels, want 2 of 8", tt.name, w.Boards.Count(), w.Boards[0].Saw.PerBoard)
		}
		legal(t, w, nil)
	}
}

// TestFiguresAndLayoutHaveOneLimit: a panel of 600 mm takes 570 mm with its edges kept free, for the figures as for the layout,
// and the report counts what lies on no panel.
func TestFiguresAndLayoutHaveOneLimit(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	for _, tt := range []struct {
		long, allowance float64
		nowhere         int
	}{{568, 0, 0}, {572, 0, 3}, {568, 1.5, 3}, {584, 0, 3}} {
		s.Shop.Allowance = tt.allowance
		w, st := laidOut(t, solidtest.Box(tt.long, 200, 48), s, job.Places{})
		r, err := report.New(context.Background(), st, w.Figures, 0)
		if err != nil {
			t.Fatal(err)
		}
		r.AddWorkshop(w, c)
		figures := w.Figures.Totals
		if len(w.Layout.TooLarge) != tt.nowhere || figures.PartsTooLarge != tt.nowhere || figures.FitsPanel != (tt.nowhere == 0) ||
			r.Totals.FitsPanel != figures.FitsPanel || r.Totals.PartsNowhere != tt.nowhere {
			t.Errorf("%g mm and %g mm more: %d parts on no panel, the figures have %d and fits %v, the report %d and %v",
				tt.long, tt.allowance, len(w.Layout.TooLarge), figures.PartsTooLarge, figures.FitsPanel, r.Totals.PartsNowhere, r.Totals.FitsPanel)
		}
	}
}
