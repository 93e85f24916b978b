package job_test

import (
	"context"
	"math"
	"reflect"
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
)

func reach(t testing.TB, st *job.Standing, f *job.Figures, step float64) *job.Reached {
	return jobtest.Reached(t, st, f, stocktest.Catalogue(t), step)
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
	_, err := job.Reach(ctx, st, f, 1, nil, func(float64) { stop() })
	if err == nil || ctx.Err() == nil {
		t.Errorf("called off, Reach says %v", err)
	}
}
