package wayout_test

import (
	"context"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
	"grainstack/slicing/wayout"
)

func instant(t testing.TB, st *job.Standing, s job.Settings) job.Totals {
	t.Helper()
	f, err := job.Instant(context.Background(), st, s, stocktest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	return f.Totals
}

// TestWaysOutHold: a way out, taken, traps as much less as it promised.
func TestWaysOutHold(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	// A mushroom that leans: its cap hangs over its foot inside a layer.
	m := solidtest.Join(solidtest.Frustum(14, 14, 40, 200), solidtest.Moved(solidtest.Ellipsoid(60, 60, 9, 20_000), geom.Vec{Z: 46}))
	s.Turn = geom.TurnXYZ(17, 0, 0)
	st := jobtest.Standing(t, m, s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, c, 1)
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	if len(ways) == 0 {
		t.Fatalf("nothing helps a leaning mushroom that traps %.0f mm³", r.Trapped)
	}
	helped, now := 0, instant(t, st, s)
	for _, w := range ways {
		if w.ByHand() || w.Settings.Mend.Saw.On {
			continue // TestOneMoreJointHolds and TestAFootIsSawn look at those
		}
		st := jobtest.Standing(t, m, w.Settings)
		g := jobtest.Settled(t, st, w.Settings, c)
		after := jobtest.Reached(t, st, g, stocktest.Catalogue(t), 1)
		if math.Abs(after.Trapped-w.Trapped) > 0.001*r.Trapped {
			t.Errorf("%s: it really traps %.0f mm³, not %.0f", w.Text, after.Trapped, w.Trapped)
		}
		jobtest.Near(t, w.Text.String()+": price in minutes", instant(t, st, w.Settings).RouterMin()-now.RouterMin(), w.RouterMin, 1e-9)
		if w.Kind == finding.Undercut && w.Trapped < 0.5*w.TrappedBefore {
			helped++
		}
	}
	jobtest.Near(t, "what is trapped now", ways[0].TrappedBefore, r.Trapped, 0.001)
	if upright := ways[slices.IndexFunc(ways, func(o wayout.Way) bool { return strings.HasPrefix(o.Text.String(), "Tilt") })]; upright.Trapped > 0.1*r.Trapped || helped < 2 {
		t.Errorf("of %.0f mm³ the best tilt leaves %.0f (%s); %d ways help by half", r.Trapped, upright.Trapped, upright.Text, helped)
	}
	again, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil || !reflect.DeepEqual(again, ways) {
		t.Errorf("looked for again, the ways out are others: %v", err)
	}
}

// TestSmallBallFits: a groove too narrow for the ball is named, and a smaller ball is the way out.
func TestSmallBallFits(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Fine = 0, job.CutterUse{Key: "ball-6.35"}
	// Two blocks 4 mm apart on a slab, all within one layer: 6.35 mm doesn't go between, 3.175 mm does.
	m := solidtest.Join(solidtest.Box(80, 60, 8), solidtest.Moved(solidtest.Box(38, 60, 7.5), geom.Vec{Z: 7.9}),
		solidtest.Moved(solidtest.Box(38, 60, 7.5), geom.Vec{X: 42, Z: 7.9}))
	st := jobtest.Standing(t, m, s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, stocktest.Catalogue(t), 0.5)
	if !slices.ContainsFunc(r.Findings, func(f carve.Finding) bool { return f.Kind == finding.NoFit && f.Side == carve.Up }) {
		t.Fatalf("the groove is not named: %v", r.Findings)
	}
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Kind != finding.NoFit {
			continue
		}
		after := jobtest.Reached(t, st, jobtest.Settled(t, st, w.Settings, c), stocktest.Catalogue(t), 0.5)
		if after.ResidueMean > 0.8*r.ResidueMean || w.RouterMin <= 0 {
			t.Errorf("%s: a mean of %.4f mm instead of %.4f stays, for %.0f min more", w.Text, after.ResidueMean, r.ResidueMean, w.RouterMin)
		}
		return
	}
	t.Errorf("no way out of a narrow groove: %v", ways)
}

// TestTooDeep: layers thicker than a cutter's edge are named with by how much, and a cutter that is long enough is offered.
func TestTooDeep(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Rough.Key, s.Fine.Key = 0, "end-3.175", "ball-3.175" // both cut over 12.7 mm
	// A cone stands on its base: its side is all seen from above, so the upper side is carved right down.
	st := jobtest.Standing(t, solidtest.Frustum(60, 45, 16, 400), s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, stocktest.Catalogue(t), 1)
	most := 0.0
	for _, one := range r.Findings {
		if one.Kind == finding.BeyondEdge {
			most = max(most, one.Size)
		}
	}
	if want := 16 + s.Skim - 12.7; math.Abs(most-want) > 0.1 {
		t.Errorf("%.2f mm too deep, want %.2f: %v", most, want, r.Findings)
	}
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Kind == finding.BeyondEdge {
			again := jobtest.Reached(t, st, jobtest.Settled(t, st, w.Settings, c), stocktest.Catalogue(t), 1)
			if slices.ContainsFunc(again.Findings, func(f carve.Finding) bool { return f.Kind == finding.BeyondEdge }) {
				t.Errorf("%s: it is still too short", w.Text)
			}
			return
		}
	}
	t.Errorf("no long cutter is offered: %v", ways)
}

// TestWallKeepsTheRims: where rings of wood are narrower than wanted, the wall that is offered keeps them.
func TestWallKeepsTheRims(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.RimWanted = 6, 12
	st := jobtest.Standing(t, solidtest.Sphere(90, 60_000), s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, c, 1)
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Settings.Wall <= s.Wall {
			continue
		}
		for _, l := range jobtest.Settled(t, st, w.Settings, c).Layers {
			if l.Rim > 0 && l.Rim < s.RimWanted {
				t.Errorf("%s: layer %d has a rim of %.1f mm", w.Text, l.Number, l.Rim)
			}
		}
		if w.WeightKg <= 0 {
			t.Errorf("%s: a thicker wall costs %.2f kg", w.Text, w.WeightKg)
		}
		return
	}
	t.Errorf("no thicker wall is offered: %v", ways)
}

// TestWaysOutAreCalledOff soon after.
func TestWaysOutAreCalledOff(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := jobtest.Standing(t, sample.Hare(15_000), s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, stocktest.Catalogue(t), 1.5)
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		ways, err := wayout.Find(ctx, st, f, r, c)
		if err != nil && ways != nil {
			t.Errorf("called off, it found %d ways", len(ways))
		}
		return err
	})
}

// BenchmarkWaysOut is on the demo piece.
func BenchmarkWaysOut(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Standing(b, job.Demo().Mesh, s)
	f := jobtest.Settled(b, st, s, c)
	r := jobtest.Reached(b, st, f, stocktest.Catalogue(b), 0)
	for b.Loop() {
		if _, err := wayout.Find(context.Background(), st, f, r, c); err != nil {
			b.Fatal(err)
		}
	}
}
