package hours_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"grainstack/assets"
	"grainstack/assets/stocktest"
	"grainstack/slicing/hours"
	"grainstack/slicing/stock"
)

// Rest-to-rest moves: trapezoidal speed, standard kinematics; values at 50 mm/s and 500 or 250 mm/s², at 40 mm/s and
// 400 mm/s² worked out by hand.
func TestMove(t *testing.T) {
	for _, tt := range []struct{ d, v, a, want float64 }{
		{1, 50, 500, .08944}, {10, 50, 500, .3}, {100, 50, 500, 2.1}, {500, 50, 500, 10.1},
		{1, 50, 250, .12649}, {10, 50, 250, .4}, {100, 50, 250, 2.2}, {500, 50, 250, 10.2},
		{100, 40, 400, 2.60}, {1, 40, 400, .10}, {0, 50, 500, 0},
	} {
		if got := hours.Move(tt.d, tt.v, tt.a); math.Abs(got-tt.want) > 5e-6 {
			t.Errorf("%g mm at %g mm/s, %g mm/s²: got %.5f s, want %.5f", tt.d, tt.v, tt.a, got, tt.want)
		}
	}
	for _, bad := range [][2]float64{{0, 1}, {1, 0}, {-1, 1}, {math.NaN(), 1}} {
		if got := hours.Move(1, bad[0], bad[1]); !math.IsInf(got, 1) {
			t.Errorf("speed and acceleration %v: got %g s, want no end", bad, got)
		}
	}
}

// Ridge of a ball nose of radius 3.175 mm: h = R - √(R² - s²/4) (calculator page gives .01043 for D 6, s .5; the rest by
// arithmetic).
func TestCusp(t *testing.T) {
	for _, tt := range []struct{ d, over, want float64 }{
		{6, .5, .01043}, {6.35, .3, .00355}, {6.35, .5, .00986}, {6.35, .635, .01591}, {6.35, 1, .03962}, {6.35, 1.27, .06415},
		{6.35, 2, .16159},
	} {
		got, ok := hours.Cusp(stock.Cutter{Shape: stock.Ball, Diameter: tt.d, Stepover: tt.over})
		if !ok || math.Abs(got-tt.want) > 5e-6 {
			t.Errorf("ball %g, rows %g apart: got %.5f, %v, want %.5f", tt.d, tt.over, got, ok, tt.want)
		}
	}
	// The other shapes (plane geometry): a flat end leaves none; a bull nose with 1 mm corners on 6 mm has 4 mm of flat, so that
	// rows of 5.2 mm are as rows of 1.2 mm by a ball of 1 mm; a tip of 1 mm on a cone of 30° gives way to the cone √3/2 mm from
	// its axis, half a millimetre up, from where the edge rises √3 mm a millimetre.
	bull := stock.Cutter{Shape: stock.Bull, Diameter: 6, CornerRadius: 1}
	taper := stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 30}
	for _, tt := range []struct {
		c          stock.Cutter
		over, want float64
	}{
		{stock.Cutter{Shape: stock.Flat, Diameter: 6}, 1, 0}, {stock.Cutter{Shape: stock.Flat, Diameter: 6}, 6, 0},
		{bull, 4, 0}, {bull, 5.2, 1 - .8}, {bull, 6, 1},
		{taper, 1.2, 1 - .8}, {taper, math.Sqrt(3), .5}, {taper, math.Sqrt(3) + 1, .5 + .5*math.Sqrt(3)},
	} {
		tt.c.Stepover = tt.over
		if got, ok := hours.Cusp(tt.c); !ok || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%v, rows %g apart: got %.5f, %v, want %.5f", tt.c.Shape, tt.over, got, ok, tt.want)
		}
	}
	for _, c := range []stock.Cutter{{Shape: stock.Flat, Diameter: 6, Stepover: 6.1}, {Shape: stock.Ball, Diameter: 6, Stepover: 6.1},
		{Shape: stock.Ball, Diameter: 6}} {
		if h, ok := hours.Cusp(c); ok {
			t.Errorf("%+v: got a ridge of %g", c, h)
		}
	}
}

// 18000 x 2 x 0.15 mm is 5400 mm/min: a machine that does 3600 leaves a chip load of 0.1 mm (arithmetic).
func TestChipLoad(t *testing.T) {
	c := stock.Cutter{FeedMmMin: 5400, RPM: 18000, Flutes: 2}
	for _, tt := range []struct{ feed, most, want float64 }{{6000, 30000, .15}, {3600, 30000, .1}, {3600, 9000, .2}} {
		got := hours.ChipLoad(c, stock.Machine{FeedMmMin: tt.feed, MinRPM: 5000, MaxRPM: tt.most})
		if math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("machine %+v: got %g, want %g", tt, got, tt.want)
		}
	}
}

// Cauchy and Crofton: parallel lines s apart cross a disc of radius r in chords that are πr²/s long together and 2r/s in
// number; here every row is laid out and timed alone.
func TestRowsAgainstLaidOut(t *testing.T) {
	_, setup := first(t)
	setup.Machine.RapidMmMin, setup.Machine.RapidZMmMin = 1e9, 1e9 // moves between cuts are not looked at here
	const r, over = 120.0, 0.4
	setup.Finish.Stepover = over
	v, a := min(setup.Finish.FeedMmMin, setup.Machine.FeedMmMin)/60, setup.Machine.AccelMmS2
	var laid float64
	for y := -r + over/2; y < r; y += over {
		laid += hours.Move(2*math.Sqrt(r*r-y*y), v, a) + hours.Move(over, v, a)
	}
	// A flat disc with upright sides, no margin to speak of and nothing to climb: only its upper joint face is gone over.
	disc := hours.Layer{Thickness: 1e-6, Outline: math.Pi * r * r, Perimeter: 2 * math.Pi * r, Wood: math.Pi * r * r * 1e-6, Parts: 1,
		Up: hours.Side{Section: math.Pi * r * r}, Down: hours.Side{Section: math.Pi * r * r}}
	setup.Rough.Diameter, setup.Finish.Diameter, setup.Clearance = 1e-9, 1e-9, 0
	got := hours.Estimate(disc, setup).Up.FinishMin * 60
	if math.Abs(got/laid-1) > 0.01 {
		t.Errorf("got %.1f s, the rows laid out take %.1f s", got, laid)
	}
}

// With rows far longer than the way to full speed, time is way over feed.
func TestLongRows(t *testing.T) {
	_, setup := first(t)
	setup.Machine.AccelMmS2, setup.Machine.AccelZMmS2 = 1e9, 1e9
	setup.Machine.FeedZMmMin, setup.Finish.PlungeMmMin = 1e6, 1e6
	got := hours.Estimate(ellipsoid(200, 150, 120, -8, 8, 0.9, 0), setup).Up
	if feed := got.FinishMetres * 1000 / setup.Finish.FeedMmMin; math.Abs(got.FinishMin/feed-1) > 0.05 {
		t.Errorf("got %.1f min, way over feed is %.1f min", got.FinishMin, feed)
	}
}

// Turning a layer over swaps its sides.
func TestTurnedOver(t *testing.T) {
	_, setup := first(t)
	for _, wall := range []float64{0, 30} {
		l := ellipsoid(200, 150, 120, 40, 56, 0.9, wall)
		turned := l
		turned.Up, turned.Down = l.Down, l.Up
		a, b := hours.Estimate(l, setup), hours.Estimate(turned, setup)
		if !near(a.Up, b.Down) || !near(a.Down, b.Up) {
			t.Errorf("wall %g: got %+v, turned over %+v", wall, a, b)
		}
		if a.Up.FinishMin <= a.Down.FinishMin {
			t.Errorf("wall %g: the upper side of a dome has all its slopes, yet %.1f <= %.1f min", wall, a.Up.FinishMin, a.Down.FinishMin)
		}
	}
}

func near(a, b hours.SideTime) bool {
	return math.Abs(a.RoughMin-b.RoughMin)+math.Abs(a.FinishMin-b.FinishMin)+math.Abs(a.RoughMetres-b.RoughMetres)+
		math.Abs(a.FinishMetres-b.FinishMetres) < 1e-6
}

// A straight core is quicker to rough than a carved one of the same size, and any core leaves less to do than none: hollowing
// is done for carving time, too (common practice, no source).
func TestCore(t *testing.T) {
	_, setup := first(t)
	solid, carved := ellipsoid(200, 150, 120, 0, 16, 0.9, 0), ellipsoid(200, 150, 120, 0, 16, 0.9, 30)
	straight := carved
	straight.Core.Straight = true
	a, b, c := total(hours.Estimate(solid, setup)), total(hours.Estimate(carved, setup)), total(hours.Estimate(straight, setup))
	if !(c.RoughMin < b.RoughMin && b.RoughMin < a.RoughMin) {
		t.Errorf("rough: solid %.0f, straight %.0f, carved %.0f min", a.RoughMin, c.RoughMin, b.RoughMin)
	}
	if !(c.FinishMin < b.FinishMin && b.FinishMin < a.FinishMin) {
		t.Errorf("finish: straight %.0f, carved %.0f, solid %.0f min", c.FinishMin, b.FinishMin, a.FinishMin)
	}
}

// The measure of a round core's skin against the sum over its facets, whole, in caps and in slices.
func TestCoreRows(t *testing.T) {
	for _, tt := range []struct{ z0, z1, within float64 }{
		{-120, 120, .15}, // closed at both ends within one layer
		{0, 120, .05}, {60, 120, .02}, {80, 96, .02}, {-8, 8, .02}, {0, 16, .02},
	} {
		inner := slab(170, 170, 120, tt.z0, tt.z1)
		l := hours.Layer{Thickness: tt.z1 - tt.z0, Core: hours.Core{Volume: inner.volume, Skin: inner.skin, Perimeter: inner.around}}
		l.Up.Core, l.Down.Core = inner.top, inner.bottom
		got, want := hours.CoreRows(l, true)+hours.CoreRows(l, false), inner.rowsUp+inner.rowsDown
		if math.Abs(got/want-1) > tt.within {
			t.Errorf("core from %g to %g: %.0f mm² of rows, the facets sum to %.0f", tt.z0, tt.z1, got, want)
		}
	}
}

// More feed, plunge, rapid or acceleration, a wider stepover and a deeper stepdown never make the work longer.
func TestNeverSlower(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	between := func(low, high float64) float64 { return low * math.Pow(high/low, rnd.Float64()) }
	quicker := map[string]func(*hours.Setup, float64){
		"rough feed":     func(s *hours.Setup, k float64) { s.Rough.FeedMmMin *= k },
		"rough plunge":   func(s *hours.Setup, k float64) { s.Rough.PlungeMmMin *= k },
		"rough stepover": func(s *hours.Setup, k float64) { s.Rough.Stepover *= k },
		"rough stepdown": func(s *hours.Setup, k float64) { s.Rough.Stepdown *= k },
		"finish feed":    func(s *hours.Setup, k float64) { s.Finish.FeedMmMin *= k },
		"finish plunge":  func(s *hours.Setup, k float64) { s.Finish.PlungeMmMin *= k },
		"stepover":       func(s *hours.Setup, k float64) { s.Finish.Stepover *= k },
		"machine feed":   func(s *hours.Setup, k float64) { s.Machine.FeedMmMin *= k; s.Machine.FeedZMmMin *= k },
		"rapid":          func(s *hours.Setup, k float64) { s.Machine.RapidMmMin *= k; s.Machine.RapidZMmMin *= k },
		"acceleration":   func(s *hours.Setup, k float64) { s.Machine.AccelMmS2 *= k },
	}
	_, standing := first(t)
	for range 3000 {
		setup := standing
		setup.Rough.FeedMmMin, setup.Rough.PlungeMmMin = between(100, 9000), between(50, 3000)
		setup.Finish.FeedMmMin, setup.Finish.PlungeMmMin = between(100, 9000), between(50, 3000)
		setup.Rough.Stepover, setup.Finish.Stepover, setup.Rough.Stepdown = between(.1, 8), between(.05, 3), between(.2, 12)
		setup.Machine.AccelMmS2 = between(20, 4000)
		a := between(2, 400)
		l := ellipsoidOf(rnd, a, a*between(.3, 1), a*between(.2, 1))
		before := total(hours.Estimate(l, setup))
		for name, change := range quicker {
			after := setup
			change(&after, between(1.001, 4))
			if got := total(hours.Estimate(l, after)); got.Minutes() > before.Minutes()*(1+1e-12) {
				t.Fatalf("%s: %.3f min before, %.3f after\n%+v\n%+v", name, before.Minutes(), got.Minutes(), l, setup)
			}
		}
	}
}

// ellipsoidOf gives quick rough figures of some layer, with some core, not needed to fit together exactly.
func ellipsoidOf(rnd *rand.Rand, a, b, c float64) hours.Layer {
	t := c * (0.05 + 0.5*rnd.Float64())
	area := math.Pi * a * b
	l := hours.Layer{Thickness: t, Skim: 2 * rnd.Float64(), Outline: area, Perimeter: math.Pi * (a + b), Wood: area * t * (0.3 + 0.7*rnd.Float64()),
		Parts: 1 + rnd.IntN(4)}
	l.Up = hours.Side{Rows: area * rnd.Float64(), Section: area * rnd.Float64()}
	l.Down = hours.Side{Rows: area * rnd.Float64(), Section: area * rnd.Float64()}
	if rnd.IntN(2) == 0 {
		f := rnd.Float64()
		l.Core = hours.Core{Volume: f * l.Wood, Skin: f * area, Perimeter: math.Sqrt(f) * l.Perimeter, Straight: rnd.IntN(2) == 0}
		l.Up.Core, l.Down.Core = f*l.Up.Section, f*l.Down.Section
	}
	return l
}

// What cannot be worked with is named, and no finite time is given for it.
func TestCheck(t *testing.T) {
	_, good := first(t)
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		want  string
		spoil func(*hours.Setup)
	}{
		{"rough pass: feed", func(s *hours.Setup) { s.Rough.FeedMmMin = 0 }},
		{"finish pass: stepover", func(s *hours.Setup) { s.Finish.Stepover = math.NaN() }},
		{"rough pass: stepdown", func(s *hours.Setup) { s.Rough.Stepdown = -1 }},
		{"machine: acceleration", func(s *hours.Setup) { s.Machine.AccelMmS2 = math.Inf(1) }},
		{"clearance", func(s *hours.Setup) { s.Clearance = -1 }},
	} {
		setup := good
		tt.spoil(&setup)
		if err := setup.Check(); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("got %v, want %s named", err, tt.want)
		}
		if got := total(hours.Estimate(ellipsoid(200, 150, 120, 0, 16, 0.9, 0), setup)).Minutes(); !math.IsInf(got, 1) {
			t.Errorf("%s spoilt: got %g min", tt.want, got)
		}
	}
	if got := hours.Estimate(hours.Layer{}, good); got != (hours.LayerTime{}) {
		t.Errorf("nothing takes %+v", got)
	}
}

// Order of work on a panel: fixed, drilled, turned twice, cutter changed once (common practice, no published source).
func TestHandsOn(t *testing.T) {
	s := hours.Setup{Hands: hours.Hands{Clamp: 6, Drill: 4, Turn: 4, CutterChange: 5}}
	if got := s.HandsOn(10); got != 230 {
		t.Errorf("got %g min, want 230", got)
	}
}

func BenchmarkEstimate(b *testing.B) {
	_, setup := first(b)
	l := ellipsoid(200, 150, 120, 0, 16, 0.9, 30)
	for b.Loop() {
		hours.Estimate(l, setup)
	}
}

func ExampleEstimate() {
	c, err := stock.Load(assets.FS, "stock.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	rough, _ := c.Cutter("end-6.35")
	finish, _ := c.Cutter("ball-6.35")
	machine, _ := c.Machine("middle")
	disc := hours.Layer{Thickness: 16, Skim: 0.9, Outline: 70_686, Perimeter: 942, Wood: 16 * 70_686, Parts: 1, // 300 mm across
		Up: hours.Side{Section: 70_686}, Down: hours.Side{Section: 70_686}}
	t := hours.Estimate(disc, hours.Defaults(rough, finish, machine))
	fmt.Printf("a side: rough %.0f min, finish %.1f h\n", t.Up.RoughMin, t.Up.FinishMin/60)
	// Output: a side: rough 22 min, finish 1.9 h
}

// TestDefaultsCut: on the machine that a new job begins with, the cutters that it begins with take a chip within the chart's
// range for plywood, as do all but the widest in the catalogue (published chart of a maker of router bits; see ChipRange).
func TestDefaultsCut(t *testing.T) {
	c := stocktest.Catalogue(t)
	m, _ := c.Machine(c.First.Machine)
	for _, k := range c.Cutters {
		chip := hours.CheckChip(k, m, hours.Plywood)
		if k.Diameter > 10 {
			if !chip.Rubs() || !strings.Contains(chip.Text.String(), "machine can't give it more") {
				t.Errorf("%s: %q", k.Key, chip.Text) // no hobby machine turns it slowly or feeds it fast enough
			}
			continue
		}
		if !chip.Text.None() {
			t.Errorf("%s: %s", k.Key, chip.Text)
		}
	}
}
