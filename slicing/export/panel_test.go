package export

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// a panel with a block of 100 x 60, 16 thick, whose lower left corner lies at 50, 70, and no more.
func blockPlan() PanelPlan {
	return PanelPlan{
		X: 200, Y: 200, Thickness: 16, Gap: 8,
		Parts: []PanelPart{{Solid: solidtest.Box(100, 60, 16), At: geom.Vec2{X: 50, Y: 70}}},
	}
}

func model(t testing.TB, p PanelPlan) *PanelModel {
	t.Helper()
	m, err := NewPanelModel(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// sound fails where a mesh is no closed 2-manifold with its outside out.
func sound(t *testing.T, what string, m *mesh.Mesh) mesh.Findings {
	t.Helper()
	f := mesh.Inspect(m, m.Adjacency())
	if !f.Solid() || f.ZeroArea > 0 {
		t.Errorf("%s: open %d, more than two %d, flipped %d, inward %d, no area %d, volume %.1f", what,
			f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells, f.ZeroArea, f.Volume)
	}
	return f
}

// TestPanelVolumes: panels whose volume is known. Outlines lie between columns, so volumes are good to half a step along
// them.
func TestPanelVolumes(t *testing.T) {
	tab := PanelTab{At: geom.Vec2{X: 150, Y: 100}, Way: geom.Vec2{X: 1}, Length: 8, Width: 10, Bottom: 2, Top: 8}
	ring := 2*(100+60)*8 + math.Pi*8*8 // of the gap round the block
	for _, tt := range []struct {
		name   string
		change func(*PanelPlan)
		volume float64
		rim    float64 // mm of outlines
		shells int
	}{
		{"bare", func(p *PanelPlan) { p.Parts = nil }, 200 * 200 * 16, 0, 1},
		{"block", func(p *PanelPlan) {}, (200*200 - ring) * 16, 700, 2},
		{"block, turned", func(p *PanelPlan) { p.Parts[0].TurnDeg, p.Parts[0].At = 90, geom.Vec2{X: 140, Y: 40} }, (200*200 - ring) * 16, 700, 2},
		{"block with tab", func(p *PanelPlan) { p.Tabs = []PanelTab{tab} }, (200*200-ring)*16 + 8*10*6, 700, 1},
		{"hole", func(p *PanelPlan) {
			p.Parts, p.Holes = nil, []PanelHole{{At: geom.Vec2{X: 100, Y: 20}, Diameter: 12}}
		}, (200*200 - math.Pi*36) * 16, 40, 1},
		{"pins from above and below", func(p *PanelPlan) {
			p.Holes = []PanelHole{{At: geom.Vec2{X: 80, Y: 100}, Diameter: 8, FromAbove: 10}, {At: geom.Vec2{X: 120, Y: 100}, Diameter: 8, FromBelow: 6}}
		}, (200*200-ring)*16 - math.Pi*16*(10+6), 700 + 2*8*math.Pi, 2},
		{"thin block", func(p *PanelPlan) { p.Parts[0].Solid = solidtest.Box(100, 60, 6) }, (200*200-ring)*16 - 100*60*10, 700, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := blockPlan()
			tt.change(&p)
			m := model(t, p)
			for _, side := range []panel.Face{panel.SideA, panel.SideB} {
				solid := m.Solid(side)
				f := sound(t, side.String(), solid)
				if math.Abs(f.Volume-tt.volume) > tt.rim*DefaultStep*16+1e-6*tt.volume {
					t.Errorf("side %v: %.0f mm³, want %.0f", side, f.Volume, tt.volume)
				}
				if f.Shells != tt.shells {
					t.Errorf("side %v: %d shells, want %d", side, f.Shells, tt.shells)
				}
				if box := solid.Box(); box.Min != (geom.Vec{}) || box.Max != (geom.Vec{X: 200, Y: 200, Z: 16}) {
					t.Errorf("side %v reaches from %v to %v", side, box.Min, box.Max)
				}
			}
		})
	}
}

// TestSlantedTabs: a tab that lies askew to the columns is as wide as it has to be, within a fifth of a millimetre, in proportion to
// one five times as wide.
func TestSlantedTabs(t *testing.T) {
	bare := sound(t, "no tab", model(t, blockPlan()).Solid(panel.SideA)).Volume
	fills := func(at geom.Vec2, deg, width float64) float64 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		p := blockPlan()
		p.Tabs = []PanelTab{{At: at, Way: geom.Vec2{X: cos, Y: sin}, Length: 24, Width: width, Bottom: 2, Top: 8, Root: 16}}
		return sound(t, "tab", model(t, p).Solid(panel.SideA)).Volume - bare
	}
	const width, times = 4.14, 5
	for _, deg := range []float64{0, 7, 30, 45} {
		for _, y := range []float64{100, 100.13} {
			at := geom.Vec2{X: 150, Y: y}
			got := times * width * fills(at, deg, width) / fills(at, deg, times*width)
			if math.Abs(got-width) > 0.2 {
				t.Errorf("a tab turned by %g degrees at %g mm is %.2f mm wide, want %g", deg, y, got, width)
			}
		}
	}
}

// TestPanelOutline: a disc keeps its size, wherever it lies between the columns: volume πr²h (a prism of 400 sides has
// 0.004 % less), and no point of its wall lies further off than a step.
func TestPanelOutline(t *testing.T) {
	const r = 40.0
	disc := solidtest.Frustum(r, r, 16, 400)
	for _, at := range []geom.Vec2{{X: 100, Y: 100}, {X: 100.13, Y: 99.9}, {X: 100.25, Y: 100.25}, {X: 99.62, Y: 100.41}} {
		m := model(t, PanelPlan{X: 200, Y: 200, Thickness: 16, Gap: 500, Parts: []PanelPart{{Solid: disc, At: at}}})
		s := m.Solid(panel.SideA)
		f := sound(t, "disc", s)
		worst := 0.0
		for _, p := range s.Points {
			worst = max(worst, planar(p).Sub(at).Len()-r)
		}
		share := f.Volume/(math.Pi*r*r*16) - 1
		t.Logf("at %v: volume off by %.3f %%, that is %.3f mm of the radius", at, 100*share, r*share/2)
		if math.Abs(share) > 0.005 || worst > DefaultStep {
			t.Errorf("at %v: volume off by %.2f %%, the wall by up to %.3f mm", at, 100*share, worst)
		}
	}
}

// TestPanelSidesMatch: side B turned back about the axis is side A within 0.01 mm, solid and map, whichever the axis; and
// the map of a side is the height of its solid.
func TestPanelSidesMatch(t *testing.T) {
	for _, along := range []bool{false, true} {
		p := harePlan(t, 9)
		p.TurnAlongY = along
		m := model(t, p)
		a, b := m.Solid(panel.SideA), m.Solid(panel.SideB)
		back := func(q mesh.Point) geom.Vec {
			v := q.Vec()
			if along {
				return geom.Vec{X: p.X - v.X, Y: v.Y, Z: p.Thickness - v.Z}
			}
			return geom.Vec{X: v.X, Y: p.Y - v.Y, Z: p.Thickness - v.Z}
		}
		worst := 0.0
		for i, q := range b.Points {
			worst = max(worst, back(q).Sub(a.Points[i].Vec()).Len())
		}
		if worst > 0.01 {
			t.Errorf("along Y %v: side B lies %.4f mm off side A", along, worst)
		}
		for _, side := range []panel.Face{panel.SideA, panel.SideB} {
			checkMap(t, m.Map(side), m.Solid(side))
		}
	}
}

// TestPanelTurnedBeforehand: a panel of parts that were turned over by themselves, each at its place on side B, is on its
// side A what the other panel is on side B, within 0.01 mm.
func TestPanelTurnedBeforehand(t *testing.T) {
	p := harePlan(t, 9)
	p.Parts[0].TurnDeg, p.Parts[0].At = 0, geom.Vec2{X: 290, Y: 170}
	p.Tabs = []PanelTab{{At: geom.Vec2{X: 290, Y: 290}, Way: geom.Vec2{Y: 1}, Length: 30, Width: 12, Bottom: 3, Top: 9}}
	p.Holes[0].FromBelow, p.Holes[0].FromAbove = 5, 4
	p.Holes = append(p.Holes, PanelHole{At: geom.Vec2{X: 330, Y: 170}, Diameter: 8, FromAbove: 10})
	q := p
	q.Parts, q.Tabs, q.Holes = nil, nil, nil
	for _, part := range p.Parts {
		q.Parts = append(q.Parts, PanelPart{Solid: solidtest.Turned(part.Solid, geom.TurnXYZ(180, 0, 0)),
			PanelBottom: -part.PanelBottom - p.Thickness, At: geom.Vec2{X: part.At.X, Y: p.Y - part.At.Y}})
	}
	for _, tab := range p.Tabs {
		tab.At.Y, tab.Way.Y = p.Y-tab.At.Y, -tab.Way.Y
		tab.Bottom, tab.Top = p.Thickness-tab.Top, p.Thickness-tab.Bottom
		q.Tabs = append(q.Tabs, tab)
	}
	for _, h := range p.Holes {
		h.At.Y = p.Y - h.At.Y
		h.FromBelow, h.FromAbove = h.FromAbove, h.FromBelow
		q.Holes = append(q.Holes, h)
	}
	b, a := model(t, p).Map(panel.SideB), model(t, q).Map(panel.SideA)
	worst, off := 0.0, 0
	for i := range a.Z {
		d := math.Abs(float64(a.Z[i])-float64(b.Z[i])) * a.PerCount
		if (a.Z[i] == 0) != (b.Z[i] == 0) {
			off++ // a column right on an outline or on the border of the gap
			continue
		}
		worst = max(worst, d)
	}
	t.Logf("worst %.5f mm, %d of %d columns are wood on one side only", worst, off, len(a.Z))
	if worst > 0.01 || off > 20 {
		t.Errorf("the sides differ by %.4f mm, in %d columns wholly", worst, off)
	}
}

// checkMap compares a map with the highest point of the solid in each column that the solid has a point in.
func checkMap(t *testing.T, m PanelMap, s *mesh.Mesh) {
	t.Helper()
	top := map[[2]int]float64{}
	for _, p := range s.Points {
		key := [2]int{int(math.Round(float64(p[0]) / m.StepX)), int(math.Round(float64(p[1]) / m.StepY))}
		top[key] = max(top[key], float64(p[2]))
	}
	for key, z := range top {
		count := m.Z[key[1]*m.W+key[0]]
		if count == math.MaxUint16 && z < 16 { // within what is flush with the panel's face the solid has no points
			continue
		}
		if got := float64(count) * m.PerCount; math.Abs(got-z) > 0.01 {
			t.Fatalf("column %v: the map says %.4f, the solid %.4f", key, got, z)
		}
	}
}

// harePlan is one layer of the hare, carved hollow, on a panel of its own.
func harePlan(t testing.TB, layer int) PanelPlan {
	s := divide(t, sample.Hare(60_000), both(thickness(t, 16), wall(20, job.Carved, 1, 1)))
	solids, err := LayerSolids(context.Background(), s.st, s.f, []int{layer})
	if err != nil {
		t.Fatal(err)
	}
	l := s.f.Layers[layer-1]
	p := PanelPlan{X: 600, Y: 400, Thickness: 16, Gap: 8.35}
	for _, part := range solids[0].Parts() {
		p.Parts = append(p.Parts, PanelPart{Solid: part, PanelBottom: l.PanelBottom, At: geom.Vec2{X: 300, Y: 200}})
	}
	for _, x := range []float64{20, 570} {
		p.Holes = append(p.Holes, PanelHole{At: geom.Vec2{X: x, Y: 200}, Diameter: 10})
	}
	return p
}

// TestPanelHoldsPart: every point of a part's solid lies within the panel's columns, as near as a column stands for its
// surroundings, and joint faces are flush with the panel's faces.
func TestPanelHoldsPart(t *testing.T) {
	for _, layer := range []int{1, 5, 9, 14} {
		p := harePlan(t, layer)
		m := model(t, p)
		sound(t, "side A", m.Solid(panel.SideA))
		for k := range p.Parts {
			for _, q := range p.Parts[k].Solid.Points {
				v := p.Parts[k].onPanel(q)
				n := int(math.Round(v.Y/m.sy))*m.nx + int(math.Round(v.X/m.sx))
				if !m.wood(n) {
					continue // on the outline
				}
				low, high := math.Inf(1), math.Inf(-1)
				for _, d := range []int{0, 1, -1, m.nx, -m.nx, m.nx + 1, m.nx - 1, -m.nx - 1, -m.nx + 1} {
					if m.wood(n + d) {
						low, high = min(low, float64(m.bottom[n+d])), max(high, float64(m.top[n+d]))
					}
				}
				if v.Z < low-1 || v.Z > high+1 {
					t.Fatalf("layer %d: a point at height %.2f where the panel has %.2f to %.2f", layer, v.Z, low, high)
				}
			}
		}
	}
}

// TestOpeningsAreCleared: a ring's opening is cleared unless it is said to stay; with a block in it, tied by a tab, it is the
// block's frame.
func TestOpeningsAreCleared(t *testing.T) {
	ring := solidtest.Stretch(solidtest.Torus(70, 12, 120, 40), 1, 1, 16.0/24)
	middle := geom.Vec2{X: 110, Y: 110}
	p := PanelPlan{X: 220, Y: 220, Thickness: 16, Gap: 8, Step: 1, Parts: []PanelPart{{Solid: ring, PanelBottom: -8, At: middle}}}
	p.Stays = func(at geom.Vec2) bool { return at.Sub(middle).Len() > 70 }
	m := model(t, p)
	if m.wood(110*m.nx + 110) {
		t.Error("loose wood is left in the ring's opening")
	}
	if !m.wood(0) {
		t.Error("the panel's frame is gone")
	}
	p.Parts = append(p.Parts, PanelPart{Solid: solidtest.Box(20, 20, 16), At: geom.Vec2{X: 75, Y: 100}})
	p.Stays = nil
	p.Tabs = []PanelTab{{At: geom.Vec2{X: 169, Y: 110}, Way: geom.Vec2{X: -1}, Length: 11, Width: 8, Bottom: 2, Top: 8}}
	m = model(t, p)
	sound(t, "ring and block", m.Solid(panel.SideA))
	if beside := 110*m.nx + 125; !m.wood(beside) {
		t.Error("the block in the ring's opening has no frame")
	}
}

func TestPanelRefuses(t *testing.T) {
	nan := math.NaN()
	for name, change := range map[string]func(*PanelPlan){
		"no size":         func(p *PanelPlan) { p.X = 0 },
		"no thickness":    func(p *PanelPlan) { p.Thickness = nan },
		"too fine":        func(p *PanelPlan) { p.Step = 1e-6 },
		"hole nowhere":    func(p *PanelPlan) { p.Holes = []PanelHole{{At: geom.Vec2{X: nan}}} },
		"part nowhere":    func(p *PanelPlan) { p.Parts[0].At.X = math.Inf(1) },
		"tab nowhere":     func(p *PanelPlan) { p.Tabs = []PanelTab{{Length: nan}} },
		"gap less than 0": func(p *PanelPlan) { p.Gap = -1 },
	} {
		p := blockPlan()
		change(&p)
		if _, err := NewPanelModel(context.Background(), p); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	for _, at := range []geom.Vec2{{X: -30, Y: -30}, {X: 500, Y: 500}, {X: -1e5, Y: 1e5}} { // off the panel is no panic
		p := blockPlan()
		p.Parts[0].At = at
		p.Holes = []PanelHole{{At: at, Diameter: 10}}
		p.Tabs = []PanelTab{{At: at, Way: geom.Vec2{X: 1}, Length: 8, Width: 10, Bottom: 2, Top: 8}}
		sound(t, "off the panel", model(t, p).Solid(panel.SideA))
	}
}

func BenchmarkPanelModel(b *testing.B) {
	p := harePlan(b, 9)
	for b.Loop() {
		m := model(b, p)
		b.ReportMetric(float64(len(m.Solid(panel.SideA).Triangles)), "triangles")
	}
}
