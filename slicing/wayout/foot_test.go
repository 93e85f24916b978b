package wayout_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"
)

// TestAFootIsSawn: a bench with one short wall falls over; a way out says how much is sawn off, and taken, the bench stands as it
// says, lighter by the sawn wood and the finish on it.
func TestAFootIsSawn(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	s := job.Default(c)
	s.Wall = 0
	m := solidtest.Bench(2.9)
	st := jobtest.Standing(t, m, s)
	f := jobtest.Settled(t, st, s, c)
	ways, err := wayout.Find(ctx, st, f, jobtest.Reached(t, st, f, c, 1), c)
	if err != nil {
		t.Fatal(err)
	}
	list := wayout.For(ways, finding.FallsOver, &finding.Place{Layer: 1})
	if len(list) == 0 || !list[0].Settings.Mend.Saw.On || list[0].Falls || list[0].Worse(unit.Metric) != "" {
		t.Fatalf("of %d ways out the first is %+v", len(list), list[:min(1, len(list))])
	}
	o := list[0]
	p, err := job.NewPiece("bench", m, mesh.Raw{}).Mend(ctx, o.Settings, nil)
	if err != nil {
		t.Fatal(err)
	}
	sawn, err := job.Stand(ctx, p, o.Settings.Stand())
	if err != nil {
		t.Fatal(err)
	}
	g := jobtest.Settled(t, sawn, o.Settings, c)
	b, err := g.Body(ctx, sawn)
	if err != nil {
		t.Fatal(err)
	}
	if now, ok := b.Stand(); !ok || now.Margin <= 0 {
		t.Errorf("sawn, it stands %v", ok)
	} else {
		jobtest.Near(t, "tilt", o.TipDeg, now.TipDeg, 0.1)
	}
	// 30 x 200 mm of one wall 3 mm high and of the other 0.1 mm.
	density := f.Layers[0].Board.Density * 1e-9
	jobtest.Near(t, "weight", o.WeightKg, -30*200*3.1*density, 0.03)
}

// TestWhatFallsOverStandsLast: of ways out those that make the piece fall over come after all others, and say so.
func TestWhatFallsOverStandsLast(t *testing.T) {
	at := finding.Place{Layer: 3, At: geom.Vec{X: 10, Z: 40}, Placed: true}
	falls := wayout.Way{Kind: finding.Undercut, Text: unit.Say("falls"), Frees: 1, Falls: true}
	falls.Freed[0] = at.At
	all := []wayout.Way{falls, {Kind: finding.Undercut, Text: unit.Say("less")}, {Kind: finding.NoFit, Text: unit.Say("another")}, {Kind: finding.Undercut, Text: unit.Say("by hand"), Parting: wayout.Parting{Layer: 3}},
		{Kind: finding.Undercut, Text: unit.Say("elsewhere"), Parting: wayout.Parting{Layer: 7}}}
	var texts []string
	list := wayout.For(all, finding.Undercut, &at)
	for _, o := range list {
		texts = append(texts, o.Text.String())
	}
	if len(texts) != 3 || texts[0] != "less" || texts[1] != "by hand" || texts[2] != "falls" {
		t.Errorf("in the order %q", texts)
	}
	if more := (&wayout.Way{Kind: finding.ThinWood, TrappedBefore: 100, Trapped: 1300}); more.Worse(unit.Metric) != "With this 1.2 cm³ more stay out of reach." {
		t.Errorf("it makes worse: %q", more.Worse(unit.Metric))
	}
	if list[2].Worse(unit.Metric) == "" || list[0].Worse(unit.Metric) != "" {
		t.Errorf("they make worse: %q, %q", list[0].Worse(unit.Metric), list[2].Worse(unit.Metric))
	}
}

// TestWhatFallsIsLaidDown: a brick on one of its edges falls over; the ways to lay it down are its faces, each with the tilt at which
// a brick tips over that face's nearer edge, atan(half its side / half its height), which the stand that is taken has as well; the
// first is the nearest.
func TestWhatFallsIsLaidDown(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	s := job.Default(c)
	s.Wall, s.Turn = 0, geom.TurnXYZ(50, 0, 0)
	st := jobtest.Standing(t, solidtest.Box(150, 100, 80), s)
	f := jobtest.Settled(t, st, s, c)
	ways, err := wayout.Find(ctx, st, f, jobtest.Reached(t, st, f, c, 1), c)
	if err != nil {
		t.Fatal(err)
	}
	var tips []float64
	for _, o := range wayout.For(ways, finding.FallsOver, nil) {
		if o.Settings.Stand() == s.Stand() || o.Settings.Mend.Saw.On {
			continue
		}
		tips = append(tips, o.TipDeg)
		laid := jobtest.Standing(t, solidtest.Box(150, 100, 80), o.Settings)
		b, err := jobtest.Settled(t, laid, o.Settings, c).Body(ctx, laid)
		if err != nil {
			t.Fatal(err)
		}
		now, ok := b.Stand()
		if !ok {
			t.Errorf("%s: it doesn't stand", o.Words(unit.Metric))
		}
		jobtest.Near(t, "tilt", o.TipDeg, now.TipDeg, 0.01)
	}
	if len(tips) == 0 {
		t.Fatalf("no way to lay it down: %+v", ways)
	}
	// Turned by 50 degrees about its length, 40 degrees lay it on the side of 150 x 80 mm, 100 mm high.
	jobtest.Near(t, "the nearest tips at", tips[0], math.Atan2(80, 100)*180/math.Pi, 0.02)
}
