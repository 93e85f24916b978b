package workshop_test

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

// laidOut is the workshop of a mesh, with its standing.
func laidOut(t testing.TB, m *mesh.Mesh, s job.Settings, p job.Places) (*workshop.Workshop, *job.Standing) {
	t.Helper()
	c := stocktest.Catalogue(t)
	st := jobtest.Standing(t, m, s)
	f, err := job.Settle(context.Background(), st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	w, err := workshop.New(context.Background(), st, f, p, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	if !w.Withheld.None() {
		t.Fatalf("withheld: %s", w.Withheld)
	}
	return w, st
}

func demoWorkshop(t testing.TB) (*workshop.Workshop, *job.Standing) {
	return laidOut(t, job.Demo().Mesh, job.Default(stocktest.Catalogue(t)), job.Places{})
}

// TestDemoWorkshop: every part of the demo lies where it may, is held, and its shadow holds the whole part.
func TestDemoWorkshop(t *testing.T) {
	w, st := demoWorkshop(t)
	if len(w.Bench.Check(w.Layout)) > 0 || len(w.Layout.TooLarge) > 0 || !w.Improved {
		t.Errorf("layout: %v, too large %v", w.Bench.Check(w.Layout), w.Layout.TooLarge)
	}
	n := 0
	for _, p := range w.Layout.Panels {
		n += len(p.Placed)
	}
	want := 0
	for _, l := range w.Figures.Layers {
		want += len(l.Parts)
	}
	placed := 0
	for _, c := range w.Cautions {
		for _, at := range c.Places {
			if !at.Placed || at.Part == 0 || at.Part > len(w.Figures.Layers[at.Layer-1].Parts) {
				continue
			}
			placed++
			if b := w.Figures.Layers[at.Layer-1].Parts[at.Part-1].Box; at.At.Z < b.Min.Z || at.At.Z > b.Max.Z {
				t.Errorf("%v is told at %.1f mm, the part lies from %.1f to %.1f", c.Kind, at.At.Z, b.Min.Z, b.Max.Z)
			}
		}
	}
	if placed == 0 {
		t.Error("no part is told of")
	}
	if n != want || len(w.Parts) != want {
		t.Errorf("%d parts on panels, %d parts, want %d", n, len(w.Parts), want)
	}
	badly := 0
	for _, p := range w.Parts {
		if size := p.Shadow.Box().Size(); len(p.Tabs) < 3 && math.Min(size.X, size.Y) > 20 {
			t.Errorf("%v of %.0f × %.0f mm has %d tabs", p.ID, size.X, size.Y, len(p.Tabs))
		}
		if p.Held {
			continue
		}
		badly++
		if !toldBadlyHeld(w, &p) {
			t.Errorf("%v is not held, and nobody is told", p.ID)
		}
	}
	if badly > 3 {
		t.Errorf("%d parts are not held", badly)
	}
	holdsAll(t, w, st)
	if len(w.Joints) != len(w.Figures.Layers)-1 || w.GlueUp.Pressings != len(w.Joints) {
		t.Errorf("%d joints, %d pressings, %d layers", len(w.Joints), w.GlueUp.Pressings, len(w.Figures.Layers))
	}
	if kg := w.Balance.MassG / 1000; math.Abs(kg-w.Figures.Totals.WeightKg) > 1e-9*kg {
		t.Errorf("the parts weigh %.6f kg, the ticket says %.6f", kg, w.Figures.Totals.WeightKg)
	}
	last := w.GlueUp.Stages[len(w.GlueUp.Stages)-1].Pressings[0].Result
	if d := last.Centre.Sub(w.Balance.Centre).Len(); math.Abs(last.MassG+w.Finish.DryG-w.Balance.MassG) > 0.01 || d > 0.5 {
		t.Errorf("the last pressing makes %.2f g with its centre %.2f mm off, want %.2f g", last.MassG, d, w.Balance.MassG)
	}
	t.Logf("%d parts on %d panels, %d boards, tips at %.1f°", n, len(w.Layout.Panels), w.Boards.Count(), w.Balance.TipDeg)
}

// holdsAll checks every corner of the mesh against the shadows of its layer.
func holdsAll(t *testing.T, w *workshop.Workshop, st *job.Standing) {
	t.Helper()
	worst := 0.0
	for _, p := range st.Placed.Mesh.Points {
		v := p.Vec()
		for _, l := range w.Figures.Layers {
			if v.Z < l.Bottom || v.Z > l.Top {
				continue
			}
			out := math.Inf(1)
			for _, q := range w.Parts {
				if q.Layer == l.Number {
					out = math.Min(out, outside(q.Shadow, geom.Vec2{X: v.X, Y: v.Y}))
				}
			}
			worst = math.Max(worst, out)
		}
	}
	if worst > outlineTrue {
		t.Errorf("a point lies %.3f mm outside of every shadow of its layer", worst)
	}
}

// outside is how far a point lies outside of a region.
func outside(g geom.Region, p geom.Vec2) float64 {
	if g.Contains(p) {
		return 0
	}
	d := math.Inf(1)
	for _, r := range g {
		for i, a := range r {
			way := r[(i+1)%len(r)].Sub(a)
			s := math.Max(0, math.Min(1, p.Sub(a).Dot(way)/way.Dot(way)))
			d = math.Min(d, p.Sub(a.Add(way.Scale(s))).Len())
		}
	}
	return d
}

// TestShadowsOfKnownSolids: the shadow of a ball's layer is the ball's widest section there, that of a frustum its foot.
func TestShadowsOfKnownSolids(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	w, _ := laidOut(t, solidtest.Frustum(80, 30, 64, 360), s, job.Places{})
	for i, p := range w.Parts {
		r := 80 - 50*float64(i)*16/64
		got, want := p.Shadow.Area(), math.Pi*r*r
		if grown := math.Sqrt(got/math.Pi) - r; math.Abs(grown) > outlineTrue {
			t.Errorf("layer %d: shadow of %.1f mm², the foot is %.1f mm²: %.2f mm too large", i+1, got, want, grown)
		}
		b := w.Boundary(&w.Parts[i])
		if got, want := math.Sqrt(b.Area()/math.Pi), r+w.Margin; math.Abs(got-want) > 1.2 {
			t.Errorf("layer %d: the carve boundary is %.2f mm from the axis, want %.2f", i+1, got, want)
		}
	}
}

// TestBalanceOfKnownSolids (statics): a cube tips at 45°, a solid cone at atan(r / (h/4)).
func TestBalanceOfKnownSolids(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	s.Shop.PinDiameter = 0
	for _, tt := range []struct {
		name     string
		m        *mesh.Mesh
		tip, com float64
		within   float64
	}{
		{"cube", solidtest.Box(160, 160, 160), 45, 80, 0.05},
		{"slab", solidtest.Box(300, 100, 80), math.Atan2(50, 40) * 180 / math.Pi, 40, 0.05},
		{"cone", solidtest.Frustum(100, 0.01, 160, 720), math.Atan2(100*math.Cos(math.Pi/720), 40) * 180 / math.Pi, 40, 0.2},
	} {
		w, _ := laidOut(t, tt.m, s, job.Places{})
		if math.Abs(w.Balance.TipDeg-tt.tip) > tt.within || math.Abs(w.Balance.Centre.Z-tt.com) > 0.3 {
			t.Errorf("%s: tips at %.3f° with its centre at %.3f, want %.3f° and %.3f", tt.name, w.Balance.TipDeg, w.Balance.Centre.Z, tt.tip, tt.com)
		}
	}
	w, _ := laidOut(t, solidtest.Box(160, 160, 160), func() job.Settings { s := s; s.Turn = geom.TurnXYZ(45, 0, 0); return s }(), job.Places{})
	if w.Balance.Stands && w.Balance.TipDeg > 1 {
		t.Errorf("a cube on its edge tips at %.2f°", w.Balance.TipDeg)
	}
}

// TestWhatTipsIsPointedAtItsWood: a bench with one short wall falls over; it is ringed on the wall that it stands on, not in the air
// between the two. Its other findings that are a whole layer or part have a spot within that layer's wood.
func TestWhatTipsIsPointedAtItsWood(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	w, _ := laidOut(t, solidtest.Bench(2.8), s, job.Places{})
	all := workshop.NeedsALook(w.Figures, w)
	i := slices.IndexFunc(all, func(f finding.Finding) bool { return f.Kind == finding.FallsOver })
	if i < 0 {
		t.Fatalf("it falls over, and that is not told: %q", finding.Words{}.Texts(all))
	}
	// The longer wall is the left one, from 100 to 70 mm left of the middle; it tips over its inner edge.
	if at := all[i].Worst().At; math.Abs(at.X+70) > 0.5 || at.Z != 0 {
		t.Errorf("it is ringed at %v", at)
	}
	whole := finding.InLayers(finding.NoPins, 1, 3)
	f := *w.Figures
	f.Cautions = []finding.Finding{whole}
	for _, p := range workshop.NeedsALook(&f, &workshop.Workshop{Parts: w.Parts, Figures: w.Figures})[0].Places {
		l := &f.Layers[p.Layer-1]
		if !p.Seen() || p.Placed || p.At.Z < l.Bottom || p.At.Z > l.Top {
			t.Errorf("layer %d is looked at %v, %v", p.Layer, p.At, p.Seen())
		}
		if p.Layer == 3 && math.Abs(math.Abs(p.At.X)-85) > 15 {
			t.Errorf("layer 3 is looked at between its walls, at %v", p.At)
		}
	}
	if slices.ContainsFunc(whole.Places, finding.Place.Seen) {
		t.Error("the finding itself was changed")
	}
}

// TestHollowShiftsTheCentre: a hollow box open nowhere has its centre where arithmetic has it: box less core.
func TestHollowShiftsTheCentre(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall, s.CapBottom, s.CapTop = 20, 2, 0
	w, _ := laidOut(t, solidtest.Box(200, 200, 160), s, job.Places{})
	// The core is 160 × 160 from z = 32, the joint above the solid layers, to z = 140.
	box, core := 200.0*200*160, 160.0*160*108
	want := (box*80 - core*86) / (box - core)
	if got := w.Balance.Centre.Z; math.Abs(got-want) > 0.5 {
		t.Errorf("centre at %.3f mm, want %.3f", got, want)
	}
}

// TestPutAndLock: a legal place is kept through a new layout, a colliding one is refused with what it collides with.
func TestPutAndLock(t *testing.T) {
	c := stocktest.Catalogue(t)
	w, st := demoWorkshop(t)
	id := w.Parts[0].ID
	number, at, ok := w.Layout.Find(id)
	if !ok {
		t.Fatal("the first part is nowhere")
	}
	at.Locked = true
	p, err := w.Put(number, at)
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := w.Relaid(context.Background(), p, c); !ok || len(v.Layout.Panels) != len(w.Layout.Panels) {
		t.Error("a layout with a part locked where it lies is not taken")
	}
	bad := at
	bad.At.X = -1000
	if _, err := w.Put(number, bad); err == nil {
		t.Error("a part off its panel is taken")
	}
	v, err := workshop.New(context.Background(), st, w.Figures, p, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := workshop.New(context.Background(), st, w.Figures, v.Rearranged(), c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	if n, again, _ := q.Layout.Find(id); n != number || again != at {
		t.Errorf("the locked part went from %d %v to %d %v", number, at, n, again)
	}
}

// TestTooLargePartIsSplit: a layer larger than the panel is named, and split it goes on panels.
func TestTooLargePartIsSplit(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	box := solidtest.Box(700, 200, 32)
	w, _ := laidOut(t, box, s, job.Places{})
	if len(w.Layout.TooLarge) != 2 {
		t.Fatalf("%d parts are too large, want 2", len(w.Layout.TooLarge))
	}
	var p job.Places
	for _, m := range w.Layout.TooLarge {
		p = p.WithSplit(job.Split{Part: m.Part, A: geom.Vec2{X: 10, Y: -500}, B: geom.Vec2{X: 10, Y: 500}})
	}
	w, _ = laidOut(t, box, s, p)
	if len(w.Layout.TooLarge) != 0 || len(w.Parts) != 4 {
		t.Errorf("after the split %d are too large, %d parts", len(w.Layout.TooLarge), len(w.Parts))
	}
	// The seam of each layer is 200 × 16 mm; the glue of 220 g/m² and the pressure are those of its joints.
	for i, s := range w.Seams {
		j := w.Joints[0]
		if math.Abs(s.Area-3200) > 0.01*3200 || math.Abs(s.WetG/s.Area-j.WetG/j.Area) > 1e-9 || s.PressureMPa != j.PressureMPa || s.Clamps < 2 {
			t.Errorf("seam %d: %.1f mm², %.2f g, %d clamps", i, s.Area, s.WetG, s.Clamps)
		}
	}
	if len(w.Seams) != 2 || w.GlueUp.WetG <= w.Joints[0].WetG {
		t.Errorf("%d seams, %.2f g of glue in all", len(w.Seams), w.GlueUp.WetG)
	}
	if _, _, ok := w.Layout.Find(panel.ID{Layer: 1, Part: 1}); !ok {
		t.Error("the second piece of layer 1 lies nowhere")
	}
}

// TestLegs: two legs are two parts, each glued to the body that stands on them.
func TestLegs(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	m := prism(geom.Ring{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 48}, {X: 140, Y: 48}, {X: 140, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 96}, {X: 0, Y: 96}}, 80)
	w, _ := laidOut(t, m, s, job.Places{})
	if got := len(w.Parts); got != 9 {
		t.Errorf("%d parts, want 2 × 3 legs and 3 of the body", got)
	}
	j := w.Joints[2]
	if len(j.Pairs) != 2 || math.Abs(j.Pairs[0].Area-4800) > 100 || math.Abs(j.Pairs[1].Area-4800) > 100 {
		t.Errorf("legs and body meet as %+v", j.Pairs)
	}
	if len(j.Pins) != 4 {
		t.Errorf("%d pins hold two legs, want 4", len(j.Pins))
	}
}

// prism is a ring, seen from the front, as deep as asked.
func prism(r geom.Ring, deep float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	n := int32(len(r))
	for _, y := range []float64{0, deep} {
		for _, p := range r {
			m.Points = append(m.Points, mesh.Point{float32(p.X), float32(y), float32(p.Y)})
		}
	}
	caps, _ := plane.Triangulate([]geom.Ring{r})
	for _, t := range caps {
		m.Triangles = append(m.Triangles, mesh.Triangle{t[0], t[1], t[2]}, mesh.Triangle{n + t[2], n + t[1], n + t[0]})
	}
	for i := range n {
		j := (i + 1) % n
		m.Triangles = append(m.Triangles, mesh.Triangle{j, i, n + i}, mesh.Triangle{j, n + i, n + j})
	}
	return m
}

func BenchmarkWorkshop(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Standing(b, job.Demo().Mesh, s)
	f, err := job.Settle(context.Background(), st, s, c)
	if err != nil {
		b.Fatal(err)
	}
	first := time.Duration(0)
	for b.Loop() {
		start := time.Now()
		if _, err := workshop.New(context.Background(), st, f, job.Places{}, c, workshop.Watch{Early: func(*workshop.Workshop) { first = time.Since(start) }}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(first.Milliseconds()), "first-ms")
}

// BenchmarkWorkshopMillion is the same for a piece of a million triangles.
func BenchmarkWorkshopMillion(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Big(b, s)
	f, err := job.Settle(context.Background(), st, s, c)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := workshop.New(context.Background(), st, f, job.Places{}, c, workshop.Watch{}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestWorkshopTellsHowFarItIs: from nothing to nearly all, never backwards, with words for each stage, and the search for a
// closer layout, which takes longest, in many small steps.
func TestWorkshopTellsHowFarItIs(t *testing.T) {
	w, st := demoWorkshop(t)
	last, closer, early := -1.0, 0, 0
	var words []string
	_, err := workshop.New(context.Background(), st, w.Figures, job.Places{}, stocktest.Catalogue(t), workshop.Watch{
		Tell: func(step string, done float64) {
			if done < last || done > 1 {
				t.Errorf("%s: %.3f after %.3f", step, done, last)
			}
			if last = done; len(words) == 0 || words[len(words)-1] != step {
				words = append(words, step)
			}
			if step == "laying the parts closer" {
				closer++
			}
		},
		Early: func(*workshop.Workshop) { early++ },
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(words) < 6 || words[0] != "cutting the parts out" || last < 0.8 || closer < 20 || early != 1 {
		t.Errorf("told %q up to %.2f, the search %d times, the first layout %d times", words, last, closer, early)
	}
}

// toldBadlyHeld reports whether a caution says that a part of this layer, or of a run of layers from one below, is held badly.
func toldBadlyHeld(w *workshop.Workshop, p *workshop.Part) bool {
	return slices.ContainsFunc(w.Cautions, func(c finding.Finding) bool {
		return slices.Contains(c.Layers(), p.Layer) && slices.Contains([]finding.Kind{finding.Unheld, finding.Crowded, finding.HeldThin, finding.HeldBadly}, c.Kind)
	})
}
