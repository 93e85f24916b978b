package toolpath_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/toolpath"
)

const thickness = 16.0

// laid is one part in the middle of a panel, with a tab on either side and a hole for a pin in each face.
func laid(t testing.TB, m *mesh.Mesh) toolpath.Panel {
	t.Helper()
	box := m.Box()
	r, err := panel.Registration(200, 160, panel.AlongX, panel.OnCentreLine, 8, 12, 14)
	if err != nil {
		t.Fatal(err)
	}
	mid := box.Center()
	return toolpath.Panel{
		Number: 3, X: 200, Y: 160, Thickness: thickness, Skim: 0.9, Register: r,
		Parts: []toolpath.Part{{Solid: m, Bottom: box.Min.Z, At: geom.Vec2{X: 100 - mid.X, Y: 80 - mid.Y}}},
		Tabs: []hours.Tab{
			{At: geom.Vec2{X: 100 + box.Size().X/2, Y: 80}, Way: geom.Vec2{X: 1}, Root: 3, Length: 12, Width: 8, Bottom: 5, Top: 11},
			{At: geom.Vec2{X: 100 - box.Size().X/2, Y: 80}, Way: geom.Vec2{X: -1}, Root: 3, Length: 12, Width: 8, Bottom: 5, Top: 11},
		},
		Holes: []toolpath.Hole{{At: geom.Vec2{X: 118, Y: 80}, Diameter: 8, Depth: 11}, {At: geom.Vec2{X: 118, Y: 80}, Diameter: 8, Depth: 4, FromBelow: true}},
	}
}

func setup(t testing.TB) (hours.Setup, *stock.Catalogue) {
	c := stocktest.Catalogue(t)
	rough, _ := c.Cutter(c.First.Rough)
	finish, _ := c.Cutter(c.First.Finish)
	machine, _ := c.Machine(c.First.Machine)
	return hours.Defaults(rough, finish, machine), c
}

// corner begins programs at the panel's front left corner.
func corner([2]geom.Vec2) geom.Vec2 { return geom.Vec2{} }

func made(t testing.TB, p toolpath.Panel, s hours.Setup) []toolpath.Made {
	t.Helper()
	b, err := toolpath.NewBench(t.Context(), &p, s)
	if err != nil {
		t.Fatal(err)
	}
	all, err := b.Programs(t.Context(), corner)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// bodies are parts 16 mm high with what cutters find hard: bumps, steep walls with sharp edges, a hole, upright walls askew.
func bodies() map[string]*mesh.Mesh {
	high := func(m *mesh.Mesh, wide float64) *mesh.Mesh {
		size := m.Box().Size()
		k := wide / max(size.X, size.Y)
		return solidtest.Stretch(m, k, k, thickness/size.Z)
	}
	return map[string]*mesh.Mesh{
		"bumpy":   high(solidtest.Bumpy(30, 20000), 60),
		"frustum": high(solidtest.Frustum(30, 24, 16, 90), 56),
		"torus":   high(solidtest.Torus(22, 8, 120, 60), 64), // with waste in its hole, and pins beside it
		"askew":   solidtest.Turned(high(solidtest.Box(50, 30, 16), 50), geom.TurnXYZ(0, 0, 17)),
	}
}

// standing is the part of a panel as it lies, tabs apart.
func standing(p toolpath.Panel) *mesh.Mesh {
	q := p.Parts[0]
	out := solidtest.Moved(q.Solid, geom.Vec{X: q.At.X, Y: q.At.Y, Z: -q.Bottom})
	return out
}

// TestNoGouge holds random places of every cutting move against the part's facets, as the nearest of them lies: a twin that
// knows nothing of how paths are made.
func TestNoGouge(t *testing.T) {
	s, _ := setup(t)
	for name, m := range bodies() {
		t.Run(name, func(t *testing.T) {
			p := laid(t, m)
			part := standing(p)
			tree, err := boxtree.New(t.Context(), part)
			if err != nil {
				t.Fatal(err)
			}
			rnd := rand.New(rand.NewPCG(1, 2))
			for _, one := range made(t, p, s) {
				if one.Step != program.Rough && one.Step != program.Finish {
					continue
				}
				worst, at := deepest(p, one, part, tree, rnd)
				t.Logf("%s: %d moves, %.1f min, %.1f m, %.1f m rapid, %d lifts, deepest %.4f mm", one.Name, len(one.Moves), one.Min, one.Metres, one.RapidMetres, one.Retracts, worst)
				if worst > 0.02 {
					t.Errorf("%s cuts %.3f mm into the part at %v", one.Name, worst, at)
				}
			}
		})
	}
}

// depthOf is how deep a place lies in a part, negative outside it, as far as reach.
func depthOf(q geom.Vec, part *mesh.Mesh, tree *boxtree.Tree, reach float64) float64 {
	f, at, d2 := tree.Nearest(q, reach)
	if f < 0 {
		return -reach
	}
	a, b, c := part.Corners(int(f))
	if n := b.Sub(a).Cross(c.Sub(a)); n.Dot(q.Sub(at)) < 0 && within(q, part) {
		return math.Sqrt(d2)
	}
	return -math.Sqrt(d2)
}

// within reports whether a place lies in a part: an upright line from it up passes an odd number of facets.
func within(q geom.Vec, part *mesh.Mesh) (in bool) {
	for i := range part.Triangles {
		a, b, c := part.Corners(i)
		side := func(a, b geom.Vec) bool { return (b.X-a.X)*(q.Y-a.Y)-(b.Y-a.Y)*(q.X-a.X) > 0 }
		if k := side(a, b); k == side(b, c) && k == side(c, a) {
			n := b.Sub(a).Cross(c.Sub(a))
			if n.Z != 0 && a.Z-(n.X*(q.X-a.X)+n.Y*(q.Y-a.Y))/n.Z > q.Z {
				in = !in
			}
		}
	}
	return in
}

// deepest is how deep a program cuts into a part at the most. A ball is held as a ball, an end mill as the rim of its end.
func deepest(p toolpath.Panel, one toolpath.Made, part *mesh.Mesh, tree *boxtree.Tree, rnd *rand.Rand) (worst float64, at geom.Vec) {
	r := one.Cutter.Diameter / 2
	from := geom.Vec{Z: one.Safe}
	check := func(q geom.Vec) {
		if one.Side == panel.SideB {
			f := p.Register.TurnOver(geom.Vec2{X: q.X, Y: q.Y})
			q.X, q.Y = f.X, f.Y
		}
		z := q.Z + p.Thickness + p.Skim // above the planed far face
		up := 1.0
		if one.Side == panel.SideB {
			z, up = p.Thickness-z, -1
		}
		if one.Cutter.Shape == stock.Ball {
			if d := r + depthOf(geom.Vec{X: q.X, Y: q.Y, Z: z + up*r}, part, tree, r); d > worst {
				worst, at = d, q
			}
			return
		}
		for k := range 8 {
			sin, cos := math.Sincos(float64(k)*math.Pi/4 + rnd.Float64())
			if d := depthOf(geom.Vec{X: q.X + r*cos, Y: q.Y + r*sin, Z: z}, part, tree, r); d > worst {
				worst, at = d, q
			}
		}
	}
	for _, m := range one.Moves {
		if l := m.To.Sub(from).Len(); !m.Rapid() && rnd.Float64() < 0.3 {
			for range 1 + int(l/2) {
				check(from.Add(m.To.Sub(from).Scale(rnd.Float64())))
			}
		}
		from = m.To
	}
	return worst, at
}

// proven is what came of a panel's programs, carried out as they are written.
func proven(t testing.TB, p toolpath.Panel, s hours.Setup, all []toolpath.Made) (*proof.Proof, []proof.Written) {
	t.Helper()
	return provenOn(t, p, s, all, program.Machine{Controller: stock.UsualController()})
}

// provenOn is proven for a machine.
func provenOn(t testing.TB, p toolpath.Panel, s hours.Setup, all []toolpath.Made, m program.Machine) (*proof.Proof, []proof.Written) {
	t.Helper()
	q := p.Parts[0]
	plan := export.PanelPlan{X: p.X, Y: p.Y, Thickness: p.Thickness, Gap: s.Margin(), TurnAlongY: p.Register.Axis == panel.AlongY,
		Parts: []export.PanelPart{{Solid: q.Solid, PanelBottom: q.Bottom, At: q.At, TurnDeg: q.TurnDeg}}}
	for _, b := range p.Tabs {
		plan.Tabs = append(plan.Tabs, export.PanelTab{At: b.At, Way: b.Way, Length: b.Length, Width: b.Width, Bottom: b.Bottom, Top: b.Top, Root: b.Root})
	}
	for _, h := range p.Holes {
		hole := export.PanelHole{At: h.At, Diameter: h.Diameter}
		if h.FromBelow {
			hole.FromBelow = h.Depth
		} else {
			hole.FromAbove = h.Depth
		}
		plan.Holes = append(plan.Holes, hole)
	}
	w, err := export.Wanted(t.Context(), plan, p.Skim, p.Register)
	if err != nil {
		t.Fatal(err)
	}
	limits := proof.UsualLimits()
	limits.Leave = s.Leave
	limits.TabLeft = p.TabLeft
	if p.Nut > 0 {
		limits.Nut = p.Nut
	}
	for _, c := range p.Clamps {
		for _, side := range []panel.Face{panel.SideA, panel.SideB} {
			limits.Clamps = append(limits.Clamps, proof.Clamp{Box2: c.Box2, Side: side, Height: c.Height})
		}
	}
	var written []proof.Written
	for i := range all {
		files, err := program.Write(all[i].Program, m)
		if err != nil {
			t.Fatal(err)
		}
		written = append(written, proof.Written{For: &all[i].Program, Files: files})
	}
	out, err := proof.Prove(t.Context(), w, limits, m, written)
	if err != nil {
		t.Fatal(err)
	}
	return out, written
}

// TestProven: the proof, which reads the text and cuts columns of wood, finds nothing in the programs of bodies with tabs.
func TestProven(t *testing.T) {
	s, _ := setup(t)
	for name, m := range bodies() {
		t.Run(name, func(t *testing.T) {
			p := laid(t, m)
			all := made(t, p, s)
			out, written := proven(t, p, s, all)
			for _, f := range out.Faults {
				t.Error(f)
				for i := range all {
					if lines := strings.Split(string(written[i].Files[0].Text), "\n"); all[i].Name == f.File && f.Line > 0 {
						t.Log(strings.Join(lines[max(f.Line-6, 0):min(f.Line+2, len(lines))], " | "))
					}
				}
			}
			for i, f := range out.Figures {
				t.Logf("%s: into the part %.3f, left %.3f, deepest %.2f mm; %.1f min at the feeds told, %.1f", f.Name, f.IntoPart, f.Left, f.Deepest, f.Minutes, all[i].Min)
			}
		})
	}
}

// TestClamps: with clamps wherever they leave room, over the zero too, programs hold; laid without knowing of them they would meet
// one. Going past them costs less than going over all of them each time.
func TestClamps(t *testing.T) {
	s, _ := setup(t)
	p := laid(t, bodies()["frustum"])
	none := made(t, p, s)
	clamp := func(x, y, wide, deep, high float64) toolpath.Clamp {
		return toolpath.Clamp{Box2: geom.Box2{Min: geom.Vec2{X: x, Y: y}, Max: geom.Vec2{X: x + wide, Y: y + deep}}, Height: high}
	}
	for name, clamps := range map[string][]toolpath.Clamp{
		"one over the zero":    {clamp(0, 0, 25, 25, 20)},
		"in the corners":       {clamp(0, 0, 30, 20, 20), clamp(170, 0, 30, 20, 20), clamp(0, 140, 30, 20, 20), clamp(170, 140, 30, 20, 20)},
		"between dowels":       {clamp(85, 0, 30, 35, 20), clamp(85, 125, 30, 35, 30)},
		"beside the part":      {clamp(35, 60, 23, 40, 20), clamp(142, 60, 23, 40, 12)},
		"lower than rapids go": {clamp(35, 60, 23, 40, 4)},
	} {
		t.Run(name, func(t *testing.T) {
			p := p
			p.Clamps = clamps
			if out, _ := proven(t, p, s, none); out.Holds() == (name != "lower than rapids go") {
				t.Errorf("laid without clamps %v is found", out.Faults)
			}
			all := made(t, p, s)
			out, _ := proven(t, p, s, all)
			for _, f := range out.Faults {
				t.Error(f)
			}
			for i := range all {
				high := none[i].Min + float64(2*all[i].Retracts)*0.05
				if all[i].Min < none[i].Min-1e-9 || all[i].Min > high {
					t.Errorf("%s takes %.2f min, without clamps %.2f", all[i].Name, all[i].Min, none[i].Min)
				}
			}
		})
	}
}

// TestClampedHoles: where a clamp is in the way of a register dowel, or so near that the collet nut would meet it, its holes are left
// to the hand, which is said; the rest is made and holds.
func TestClampedHoles(t *testing.T) {
	s, _ := setup(t)
	p := laid(t, bodies()["askew"])
	p.Nut = 20
	d := p.Register.Dowels[0].At
	for off, drilled := range map[float64]bool{0: false, 8: false, 16: true} {
		p.Clamps = []toolpath.Clamp{{Box2: geom.Box2{Min: geom.Vec2{X: 0, Y: d.Y + off}, Max: geom.Vec2{X: 20, Y: d.Y + off + 20}}, Height: 20}}
		tasks, without := p.Tasks(s)
		if got := tasks[0].Step == program.Holes; got != drilled || drilled != (len(without) == 0) {
			t.Errorf("with a clamp %g mm from a dowel's middle: drilled %v, %q", off, got, without)
		}
	}
	p.Clamps[0].Min.Y, p.Clamps[0].Max.Y = d.Y, d.Y+20
	out, _ := proven(t, p, s, made(t, p, s))
	for _, f := range out.Faults {
		t.Error(f)
	}
}

// TestFree: the last program leaves of each tab what is wanted, holds, and touches no part; a tab that is thinner is left alone.
func TestFree(t *testing.T) {
	s, _ := setup(t)
	for name, m := range bodies() {
		t.Run(name, func(t *testing.T) {
			p := laid(t, m)
			p.TabLeft = 1.2
			all := made(t, p, s)
			if last := all[len(all)-1]; last.Step != program.Free || last.Side != panel.SideA || last.Metres < 0.05 {
				t.Fatalf("the last program is %v of side %v, %.3f m", last.Step, last.Side, last.Metres)
			}
			out, _ := proven(t, p, s, all)
			for _, f := range out.Faults {
				t.Error(f)
			}
			if f := out.Figures[len(all)-1]; math.Abs(f.Lowest-(5+1.2-thickness-0.9)) > 0.02 || f.RemovedCm3 < 0.1 {
				t.Errorf("it goes down to %.2f and takes %.2f cm³", f.Lowest, f.RemovedCm3)
			}
			p.TabLeft = 6.1
			if all, _ := p.Tasks(s); all[len(all)-1].Step == program.Free {
				t.Error("tabs of 6 mm are to be cut down to 6.1")
			}
		})
	}
}

// TestEased: paths laid for one stepdown are eased until they take no more than two thirds of it at once, and the proof still finds
// nothing else in them.
func TestEased(t *testing.T) {
	s, _ := setup(t)
	p := laid(t, bodies()["askew"])
	all := made(t, p, s)
	most := s.Rough.Stepdown * 2 / 3
	for i := range all {
		if all[i].Step == program.Rough {
			all[i].Cutter.Stepdown = most
		}
	}
	for round := 0; ; round++ {
		out, written := proven(t, p, s, all)
		t.Logf("round %d: %d moves take too much", round, len(out.Bites))
		if round == 0 && len(out.Bites) < 10 {
			t.Fatal("nothing has to be eased")
		}
		for _, f := range out.Faults {
			if f.What != proof.TooDeep || round == 4 {
				t.Error(f)
			}
		}
		if out.Holds() || t.Failed() {
			return
		}
		ease(t, all, out, written)
	}
}

// ease eases all moves that were found to take too much at once.
func ease(t testing.TB, all []toolpath.Made, out *proof.Proof, written []proof.Written) {
	t.Helper()
	deep := make([]map[int]float64, len(all))
	for _, b := range out.Bites {
		n, ok := written[b.Program].Files[b.File].MoveOf(b.Line)
		if !ok {
			t.Fatalf("line %d is of no move", b.Line)
		}
		if deep[b.Program] == nil {
			deep[b.Program] = map[int]float64{}
		}
		deep[b.Program][n] = b.Size
	}
	for i := range all {
		all[i] = toolpath.Eased(all[i], deep[i], all[i].Cutter.Stepdown)
	}
}

// BenchmarkPrograms lays all programs of a panel with a ring on it.
func BenchmarkPrograms(b *testing.B) {
	s, _ := setup(b)
	p := laid(b, bodies()["torus"])
	for b.Loop() {
		made(b, p, s)
	}
}
