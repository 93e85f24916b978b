package hours_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/par"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/stoptest"
)

// block is one layer with upright sides, a x b mm, with a hole in its middle where hole is more than 0.
func block(t testing.TB, a, b, hole, step float64, s hours.Setup, seat hours.Seat) (up, down *hours.Ground) {
	t.Helper()
	w, h := int(a/step), int(b/step)
	top, bottom := make([]float32, w*h), make([]float32, w*h)
	for i := range top {
		top[i] = thick
		x, y := (float64(i%w)+0.5)*step-a/2, (float64(i/w)+0.5)*step-b/2
		if hole > 0 && math.Abs(x) < hole/2 && math.Abs(y) < hole/2 {
			top[i], bottom[i] = carve.NoWood, carve.NoWood
		}
	}
	grid := carve.HeightMap{Origin: geom.Vec2{X: step/2 - a/2, Y: step/2 - b/2}, Step: step, W: w, H: h}
	return upright(t, grid, top, bottom, s, seat)
}

// upright are both sides of a layer whose wood reaches from bottom to top on the places of a grid.
func upright(t testing.TB, grid carve.HeightMap, top, bottom []float32, s hours.Setup, seat hours.Seat) (up, down *hours.Ground) {
	t.Helper()
	c := carve.LayerColumns{Slab: stack.Slab{Number: 1, Top: thick}, PanelTop: thick, Top: grid, Bottom: grid}
	c.Top.Z, c.Bottom.Z = top, bottom
	layers := []carve.LayerColumns{c}
	rough, err := carve.Cuts(context.Background(), layers, carve.Work{Cutter: s.Rough, Leave: s.Leave, Past: 5, Rough: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	fine, err := carve.Cuts(context.Background(), layers, carve.Work{Cutter: s.Finish, Past: 5, Rough: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	up, ok := hours.NewGround(&layers[0], carve.Up, &rough[0].Sides[0], &fine[0].Sides[0], seat, s)
	down, ok2 := hours.NewGround(&layers[0], carve.Down, &rough[0].Sides[1], &fine[0].Sides[1], seat, s)
	if !ok || !ok2 {
		t.Fatal("no ground")
	}
	return up, down
}

// A block's upright sides are shared: each side is carved half the thickness and the ball's radius deep, in equal levels.
func TestDepth(t *testing.T) {
	_, s := first(t)
	up, down := block(t, 80, 60, 0, 0.5, s, hours.Seat{Skim: skim})
	for _, g := range []*hours.Ground{up, down} {
		want := thick/2 + s.Finish.Diameter/2
		if math.Abs(g.Depth()-want) > 0.01 {
			t.Errorf("got %.3f mm deep, want %.3f", g.Depth(), want)
		}
		levels := g.Levels(s)
		if len(levels) != 1+4 { // the skim of 0.9 - 0.4 mm, then 11.2 mm by 3 mm at the most
			t.Errorf("got levels %v", levels)
		}
		if last := levels[len(levels)-1]; math.Abs(last-(thick-want+s.Leave)) > 0.01 {
			t.Errorf("the last level is at %.3f, want %.3f", last, thick-want+s.Leave)
		}
	}
}

// simulate is one side's time.
func simulate(g *hours.Ground, s hours.Setup) (hours.SideTime, error) {
	all, err := hours.SimulateAll(context.Background(), []*hours.Ground{g}, s)
	if err != nil {
		return hours.SideTime{}, err
	}
	return all[0], nil
}

// A block's rough pass: rows over the whole carve boundary for the skim, one trip round the block on each of four levels, and one
// along the frame on all five.
func TestBlockRough(t *testing.T) {
	_, s := first(t)
	const a, b = 80.0, 60.0
	up, _ := block(t, a, b, 0, 0.25, s, hours.Seat{Skim: skim})
	got, err := simulate(up, s)
	if err != nil {
		t.Fatal(err)
	}
	reach, round := s.Margin()-s.Rough.Diameter/2, s.Rough.Diameter/2+s.Leave
	skimmed := (a*b + 2*(a+b)*reach + math.Pi*reach*reach) / s.Rough.Stepover
	trips := 4*(2*(a+b)+2*math.Pi*round) + 5*(2*(a+b)+2*math.Pi*reach)
	want := skimmed + trips + 60 + 5*1 + 12 // steps between rows, landings and plunges
	if math.Abs(got.RoughMetres*1000/want-1) > 0.03 {
		t.Errorf("way: got %.0f mm, want about %.0f", got.RoughMetres*1000, want)
	}
	if got.Retracts > 8 {
		t.Errorf("lifted %d times", got.Retracts)
	}
}

// Rows along Y of a block are rows along X of the block turned by a quarter.
func TestQuarterTurn(t *testing.T) {
	_, s := first(t)
	one, _ := block(t, 80, 60, 20, 0.5, s, hours.Seat{Skim: skim, Turned: true})
	two, _ := block(t, 60, 80, 20, 0.5, s, hours.Seat{Skim: skim})
	a, _ := simulate(one, s)
	b, _ := simulate(two, s)
	if a != b {
		t.Errorf("got %+v, turned %+v", a, b)
	}
}

// square is a square hole's outline about the middle.
func square(a float64) geom.Region {
	return geom.Region{{{X: -a / 2, Y: -a / 2}, {X: a / 2, Y: -a / 2}, {X: a / 2, Y: a / 2}, {X: -a / 2, Y: a / 2}}}
}

// A straight core adds a cut along its outline from the upper side, the cutter's radius inside, and nothing to finish. The first
// level is reached by a ramp along one of the four edges; the trip round begins where that ends.
func TestSaw(t *testing.T) {
	_, s := first(t)
	const hole = 40.0
	up, down := block(t, 100, 80, hole, 0.25, s, hours.Seat{Skim: skim, Pocket: square(hole)})
	a, _ := simulate(up, s)
	b, _ := simulate(down, s)
	if math.Abs(a.FinishMetres-b.FinishMetres) > 1e-6 {
		t.Errorf("finish: %.3f m above, %.3f m below", a.FinishMetres, b.FinishMetres)
	}
	depth := thick + 2*skim
	edge := hole - s.Rough.Diameter
	want := math.Ceil(depth/s.Rough.Stepdown)*4*edge + edge + depth
	if got := (a.RoughMetres - b.RoughMetres) * 1000; math.Abs(got/want-1) > 0.03 {
		t.Errorf("sawn: got %.0f mm, want about %.0f", got, want)
	}
}

// The estimate of a block with a straight core, its figures worked out by hand.
func TestEstimateStraightCore(t *testing.T) {
	_, s := first(t)
	const a, b, hole = 240.0, 180.0, 80.0
	up, down := block(t, a, b, hole, 0.5, s, hours.Seat{Skim: skim, Pocket: square(hole)})
	face := hours.Side{Section: a * b, Core: hole * hole}
	est := hours.Estimate(hours.Layer{Thickness: thick, Skim: skim, Outline: a * b, Perimeter: 2 * (a + b), Wood: a * b * thick, Parts: 1,
		Up: face, Down: face, Core: hours.Core{Volume: hole * hole * thick, Perimeter: 4 * hole, Straight: true}}, s)
	times, err := hours.SimulateAll(context.Background(), []*hours.Ground{up, down}, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range []hours.SideTime{est.Up, est.Down} {
		t.Logf("estimate %+v, simulated %+v", e, times[i])
		if math.Abs(e.RoughMin/times[i].RoughMin-1) > 0.15 || math.Abs(e.FinishMin/times[i].FinishMin-1) > 0.15 {
			t.Errorf("side %d: estimate %+v, simulated %+v", i, e, times[i])
		}
	}
}

// Places where nothing stands have no ground.
func TestNoGround(t *testing.T) {
	_, s := first(t)
	if _, ok := hours.NewGround(&carve.LayerColumns{}, carve.Up, &carve.Cut{}, &carve.Cut{}, hours.Seat{}, s); ok {
		t.Error("got a ground of nothing")
	}
	times, err := hours.SimulateAll(context.Background(), make([]*hours.Ground, 3), s)
	if err != nil || len(times) != 3 || times[1] != (hours.SideTime{}) {
		t.Errorf("got %v, %v", times, err)
	}
}

// What is out of all proportion is refused, not begun.
func TestOutOfProportion(t *testing.T) {
	_, s := first(t)
	up, _ := block(t, 20, 15, 0, 0.5, s, hours.Seat{Skim: skim})
	for name, spoil := range map[string]func(*hours.Setup){
		"rows": func(s *hours.Setup) { s.Finish.Stepover = 1e-9 }, "rough rows": func(s *hours.Setup) { s.Rough.Stepover = 1e-9 },
		"levels": func(s *hours.Setup) { s.Rough.Stepdown = 1e-9 }, "no feed": func(s *hours.Setup) { s.Finish.FeedMmMin = 0 },
	} {
		bad := s
		spoil(&bad)
		if _, err := hours.SimulateAll(context.Background(), []*hours.Ground{up, up}, bad); err == nil {
			t.Errorf("%s: all taken", name)
		}
		if n := total(hours.Estimate(hours.Layer{Thickness: 16, Outline: 300, Perimeter: 70, Wood: 4800, Parts: 1}, bad)).Minutes(); math.IsNaN(n) {
			t.Errorf("%s: the estimate is no number", name)
		}
		if n := len(up.Levels(bad)); n > 2048 {
			t.Errorf("%s: %d levels", name, n)
		}
	}
	// The smallest of parts, and a pocket larger than the layer.
	for _, side := range []float64{0.5, 1} {
		tiny, down := block(t, side, side, 0, 0.5, s, hours.Seat{Skim: skim, Pocket: square(400)})
		for _, g := range []*hours.Ground{tiny, down} {
			if got, err := simulate(g, s); err != nil || math.IsNaN(got.Minutes()) || math.IsInf(got.Minutes(), 0) {
				t.Errorf("got %+v, %v", got, err)
			}
		}
	}
}

// More feed, plunge, rapid, acceleration or junction deviation never makes the work longer.
func TestSimulationNeverSlower(t *testing.T) {
	rnd := rand.New(rand.NewPCG(55, 89))
	_, s := first(t)
	p := cut(t, solidtest.Ellipsoid(60, 45, 30, 5000), 0, 1, s)
	for name, change := range map[string]func(*hours.Setup, float64){
		"rough feed":        func(s *hours.Setup, k float64) { s.Rough.FeedMmMin *= k },
		"finish feed":       func(s *hours.Setup, k float64) { s.Finish.FeedMmMin *= k },
		"plunge":            func(s *hours.Setup, k float64) { s.Finish.PlungeMmMin *= k; s.Rough.PlungeMmMin *= k },
		"machine feed":      func(s *hours.Setup, k float64) { s.Machine.FeedMmMin *= k; s.Machine.FeedZMmMin *= k },
		"acceleration":      func(s *hours.Setup, k float64) { s.Machine.AccelMmS2 *= k },
		"acceleration in Z": func(s *hours.Setup, k float64) { s.Machine.AccelZMmS2 *= k },
		"junction":          func(s *hours.Setup, k float64) { s.Machine.Junction *= k },
	} {
		quick := s
		change(&quick, 1+rnd.Float64())
		for _, g := range p.grounds[:4] {
			before, _ := simulate(g, s)
			after, _ := simulate(g, quick)
			if after.Minutes() > before.Minutes()*(1+1e-12) {
				t.Errorf("more %s: %.4f min becomes %.4f min", name, before.Minutes(), after.Minutes())
			}
		}
	}
}

// Sides one by one, and all at once, take the same.
func TestAllAtOnce(t *testing.T) {
	_, s := first(t)
	p := cut(t, solidtest.Bumpy(60, 5000), 0, 1, s)
	all, err := hours.SimulateAll(context.Background(), p.grounds, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range p.grounds {
		if one, _ := simulate(g, s); one != all[i] {
			t.Errorf("side %d: alone %+v, with the others %+v", i, one, all[i])
		}
	}
}

// Work that is called off ends soon (50 ms is the aim for a slider that moves).
func TestCalledOff(t *testing.T) {
	_, s := first(t)
	p := cut(t, solidtest.Ellipsoid(200, 150, 60, 20_000), 0, 0.5, s)
	stoptest.Soon(t, 0.15, func(ctx context.Context) error {
		_, err := hours.SimulateAll(ctx, p.grounds, s)
		return err
	})
}

// The reference body simulated: 400 x 300 x 240 mm in 15 layers on 10 panels; a side 40 to 90 minutes to rough, 2 to 3 hours to
// finish, about 7 hours a panel (common practice, no published source).
func TestSimulatedCommonPractice(t *testing.T) {
	_, s := first(t)
	p := cut(t, solidtest.Ellipsoid(200, 150, 120, 40_000), 0, 0.5, s)
	times, err := hours.SimulateAll(context.Background(), p.grounds, s)
	if err != nil {
		t.Fatal(err)
	}
	var all hours.SideTime
	for _, x := range times {
		all = plus(all, x)
	}
	const sides = 20
	rough, finish, panel := all.RoughMin/sides, all.FinishMin/sides/60, all.Minutes()/10/60
	t.Logf("a side: rough %.0f min, finish %.2f h; a panel %.1f h", rough, finish, panel)
	if rough < 40 || rough > 90 || finish < 2 || finish > 3 || panel < 6 || panel > 8 {
		t.Errorf("a side: rough %.0f min, finish %.2f h; a panel %.1f h", rough, finish, panel)
	}
}

// All 32 sides of 16 layers of a piece of 400 x 300 x 250 mm, at 0.5 mm: laid out from tip maps, then simulated.
func BenchmarkMachineTime(b *testing.B) {
	_, s := first(b)
	p := cut(b, sized(solidtest.Bumpy(100, 1_000_000), 400, 300, 250), 0, 0.5, s)
	b.Run("lay out", func(b *testing.B) {
		for b.Loop() {
			err := par.Spans(context.Background(), len(p.layers), 1, func(i, _ int) {
				p.ground(b, i, carve.Up, s)
				p.ground(b, i, carve.Down, s)
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("simulate", func(b *testing.B) {
		for b.Loop() {
			if _, err := hours.SimulateAll(context.Background(), p.grounds, s); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(len(p.grounds)), "sides")
	})
}
