package job_test

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
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

func reach(t testing.TB, st *job.Standing, f *job.Figures, step float64) *job.Reached {
	return jobtest.Reached(t, st, f, stocktest.Catalogue(t), step)
}

func instant(t testing.TB, st *job.Standing, s job.Settings) job.Totals {
	t.Helper()
	f, err := job.Instant(context.Background(), st, s, stocktest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	return f.Totals
}

// TestBallIsReached: both cutters see every place of a ball, whose layers bulge but never hang over themselves.
func TestBallIsReached(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := standing(t, solidtest.Sphere(60, 80_000), s)
	r := reach(t, st, settle(t, st, s, c), 1)
	if r.Trapped > 1 || r.TrappedCore > 0 {
		t.Errorf("a ball traps %.2f mm³", r.Trapped)
	}
	for _, f := range r.Findings {
		if f.Kind == finding.Undercut || f.Kind == finding.InnerUndercut {
			t.Errorf("a ball has %v", f)
		}
	}
}

// TestUndercutOfTheDemoIsNamed: under the muzzle and over the paws lies air where no cutter gets. Every sentence has a place in
// its layer, there are few of them, and what lies inside comes last.
func TestUndercutOfTheDemoIsNamed(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := standing(t, sample.Hare(100_000), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	if r.Trapped < 500 {
		t.Errorf("the demo piece traps only %.0f mm³", r.Trapped)
	}
	muzzle, paw := false, false
	for i, one := range r.Cautions {
		if len(one.Places) == 0 {
			t.Errorf("%v has no place", one.Kind)
		}
		for _, at := range one.Places {
			if !at.Placed || at.Layer < 1 {
				t.Errorf("%v: %+v is no place", one.Kind, at)
				continue
			}
			low, high := f.Layers[at.Layer-1].Bottom, f.Layers[max(at.Layer, at.To)-1].Top
			if at.At.Z < low-1 || at.At.Z > high+1 {
				t.Errorf("%v: its place is at %.1f mm, the layers from %.1f to %.1f", one.Kind, at.At.Z, low, high)
			}
			if one.Kind == finding.Undercut { // the hare looks to the right and is 419 x 300 mm
				muzzle = muzzle || at.At.X > 100 && at.At.Z > 120 && at.At.Z < 210
				paw = paw || at.At.Z < 40
			}
		}
		if i > 0 && one.Kind <= r.Cautions[i-1].Kind {
			t.Errorf("%v comes after %v", one.Kind, r.Cautions[i-1].Kind)
		}
		if one.Kind.Hidden() != (i == len(r.Cautions)-1 && r.TrappedCore > 0) {
			t.Errorf("%d of %d, %v, nobody sees it %v", i+1, len(r.Cautions), one.Kind, one.Kind.Hidden())
		}
	}
	if !muzzle || !paw {
		t.Errorf("undercuts named: under the muzzle %v, over a paw %v", muzzle, paw)
	}
	if len(r.Cautions) > 14 {
		t.Errorf("%d cautions for %d findings", len(r.Cautions), len(r.Findings))
	}
}

// TestEstimateIsNearTheSimulation: within 15 % over pieces of several kinds.
func TestEstimateIsNearTheSimulation(t *testing.T) {
	c := stocktest.Catalogue(t)
	for name, m := range map[string]*mesh.Mesh{
		"ball": solidtest.Sphere(70, 40_000), "ring": solidtest.Torus(90, 35, 200, 80), "hare": sample.Hare(100_000),
	} {
		for _, wall := range []float64{0, 20} {
			s := job.Default(c)
			s.Wall = wall
			st := standing(t, m, s)
			r := reach(t, st, settle(t, st, s, c), 1)
			if off := r.Off(); math.Abs(off) > 0.15 || r.RouterMin() <= 0 {
				t.Errorf("%s, wall %.0f: the estimate is %.1f %% off %.0f min", name, wall, 100*off, r.RouterMin())
			}
		}
	}
}

// TestWaysOutHold: a way out, taken, traps as much less as it promised.
func TestWaysOutHold(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	// A mushroom that leans: its cap hangs over its foot inside a layer.
	m := solidtest.Join(solidtest.Frustum(14, 14, 40, 200), solidtest.Moved(solidtest.Ellipsoid(60, 60, 9, 20_000), geom.Vec{Z: 46}))
	s.Turn = geom.TurnXYZ(17, 0, 0)
	st := standing(t, m, s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	ways, err := job.WaysOut(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	if len(ways) == 0 {
		t.Fatalf("nothing helps a leaning mushroom that traps %.0f mm³", r.Trapped)
	}
	helped, now := 0, instant(t, st, s)
	for _, w := range ways {
		if w.ByHand() {
			continue // TestOneMoreJointHolds looks at those
		}
		st := standing(t, m, w.Settings)
		g := settle(t, st, w.Settings, c)
		after := reach(t, st, g, 1)
		if math.Abs(after.Trapped-w.Trapped) > 0.001*r.Trapped {
			t.Errorf("%s: it really traps %.0f mm³, not %.0f", w.Text, after.Trapped, w.Trapped)
		}
		near(t, w.Text+": price in minutes", instant(t, st, w.Settings).RouterMin()-now.RouterMin(), w.RouterMin, 1e-9)
		if w.Kind == finding.Undercut && w.Trapped < 0.5*w.TrappedBefore {
			helped++
		}
	}
	near(t, "what is trapped now", ways[0].TrappedBefore, r.Trapped, 0.001)
	if upright := ways[slices.IndexFunc(ways, func(o job.WayOut) bool { return strings.HasPrefix(o.Text, "Tilt") })]; upright.Trapped > 0.1*r.Trapped || helped < 2 {
		t.Errorf("of %.0f mm³ the best tilt leaves %.0f (%s); %d ways help by half", r.Trapped, upright.Trapped, upright.Text, helped)
	}
	again, err := job.WaysOut(context.Background(), st, f, r, c)
	if err != nil || !slices.Equal(again, ways) {
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
	st := standing(t, m, s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 0.5)
	if !slices.ContainsFunc(r.Findings, func(f carve.Finding) bool { return f.Kind == finding.NoFit && f.Side == carve.Up }) {
		t.Fatalf("the groove is not named: %v", r.Findings)
	}
	ways, err := job.WaysOut(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Kind != finding.NoFit {
			continue
		}
		after := reach(t, st, settle(t, st, w.Settings, c), 0.5)
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
	st := standing(t, solidtest.Frustum(60, 45, 16, 400), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	most := 0.0
	for _, one := range r.Findings {
		if one.Kind == finding.BeyondEdge {
			most = max(most, one.Size)
		}
	}
	if want := 16 + s.Skim - 12.7; math.Abs(most-want) > 0.1 {
		t.Errorf("%.2f mm too deep, want %.2f: %v", most, want, r.Findings)
	}
	ways, err := job.WaysOut(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Kind == finding.BeyondEdge {
			again := reach(t, st, settle(t, st, w.Settings, c), 1)
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
	st := standing(t, solidtest.Sphere(90, 60_000), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	ways, err := job.WaysOut(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Settings.Wall <= s.Wall {
			continue
		}
		for _, l := range settle(t, st, w.Settings, c).Layers {
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

// TestTiedFigures: the estimate of the very settings becomes the simulation; that of another layer thickness moves by the
// same ratio; that of other cutters stays. What was given stays as it was.
func TestTiedFigures(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := standing(t, solidtest.Bumpy(70, 40_000), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1)
	was := f.Totals.RouterMin()
	same := f.TiedTo(r)
	if !same.Simulated || f.Simulated || f.Totals.RouterMin() != was || len(same.Cautions) != len(f.Cautions)+len(r.Cautions) {
		t.Errorf("simulated %v and %v, %d cautions", same.Simulated, f.Simulated, len(same.Cautions))
	}
	near(t, "tied to itself", same.Totals.RouterMin(), r.RouterMin(), 1e-9)
	near(t, "off", same.EstimateOff, was/r.RouterMin()-1, 1e-9)
	near(t, "estimate scaled", f.Tied(r.Tie).Totals.RouterMin(), r.RouterMin(), 1e-9)

	thin := s.WithLayer(c, 13)
	g := settle(t, st, thin, c)
	tied := g.TiedTo(r)
	near(t, "rough", tied.Totals.RoughMin/g.Totals.RoughMin, r.Tie.Rough, 1e-9)
	near(t, "finish", tied.Totals.FineMin/g.Totals.FineMin, r.Tie.Finish, 1e-9)
	if tied.Simulated {
		t.Error("a tied estimate calls itself simulated")
	}
	other := s
	other.Fine.Key = "ball-3.175"
	if h := settle(t, st, other, c); h.TiedTo(r) != h {
		t.Error("figures of another cutter are tied")
	}
	k := hours.Factor{Times: 1.5, Low: 1.4, High: 1.6, Sides: 3}
	learned := same.Learned(k)
	near(t, "learned", learned.Totals.RouterMin(), 1.5*r.RouterMin(), 1e-9)
	if learned.Factor != k || same.Factor.Known() {
		t.Errorf("factor %+v, before %+v", learned.Factor, same.Factor)
	}
}

// TestRowsAcrossGrain: rows across the grain of a piece are rows along the grain of the piece turned by a quarter.
func TestRowsAcrossGrain(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Alternate, s.AcrossGrain = 0, false, true
	m := solidtest.Ellipsoid(100, 50, 30, 40_000)
	across := settle(t, standing(t, m, s), s, c)
	s.AcrossGrain, s.Turn = false, geom.TurnXYZ(0, 0, 90)
	along := settle(t, standing(t, m, s), s, c)
	near(t, "finish", across.Totals.FineMin, along.Totals.FineMin, 1e-3)
	s.Turn = geom.NoTurn()
	plain := settle(t, standing(t, m, s), s, c)
	if math.Abs(plain.Totals.FineMin/across.Totals.FineMin-1) < 1e-3 {
		t.Error("rows across the grain take just as long on a long piece")
	}
}

// TestReachIsTheSameAgain: every run gives the same, whatever the cores do.
func TestReachIsTheSameAgain(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := standing(t, sample.Hare(60_000), s)
	f := settle(t, st, s, c)
	a, b := reach(t, st, f, 1), reach(t, st, f, 1)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

// TestLimits: what a maker doesn't mind isn't named, and 0 stands for the usual.
func TestLimits(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := standing(t, sample.Hare(60_000), s)
	count := func(s job.Settings) (n int) {
		for _, f := range reach(t, st, settle(t, st, s, c), 1).Findings {
			if f.Kind == finding.Undercut {
				n++
			}
		}
		return n
	}
	usual := count(s)
	s.Limits.Trapped = 1e9
	if n := count(s); n != 0 || usual == 0 {
		t.Errorf("%d undercuts are named, %d beyond any limit", usual, n)
	}
	s.Limits = carve.Limits{}
	if n := count(s); n != usual {
		t.Errorf("without limits %d undercuts are named, usually %d", n, usual)
	}
}

// TestReachIsCalledOff and the error is that of the context.
func TestReachIsCalledOff(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := standing(t, solidtest.Sphere(60, 20_000), s)
	f := settle(t, st, s, c)
	ctx, stop := context.WithCancel(context.Background())
	_, err := job.Reach(ctx, st, f, c, 1, func(float64) { stop() })
	if err == nil || ctx.Err() == nil {
		t.Errorf("called off, Reach says %v", err)
	}
}

// TestWaysOutAreCalledOff soon after.
func TestWaysOutAreCalledOff(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := standing(t, sample.Hare(15_000), s)
	f := settle(t, st, s, c)
	r := reach(t, st, f, 1.5)
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		ways, err := job.WaysOut(ctx, st, f, r, c)
		if err != nil && ways != nil {
			t.Errorf("called off, it found %d ways", len(ways))
		}
		return err
	})
}
