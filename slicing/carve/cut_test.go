package carve_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

const panel = 20.0 // thickness of the layers below, mm

// carved is a layer 20 mm thick whose top side is the height h(x, y) and whose underside is flat, x and y from the middle;
// NaN stands for no wood.
func carved(n int, step float64, h func(x, y float64) float64) carve.LayerColumns {
	m := carve.HeightMap{Step: step, W: n, H: n, Z: make([]float32, n*n)}
	m.Origin = geom.Vec2{X: -float64(n-1) / 2 * step, Y: -float64(n-1) / 2 * step}
	low := m
	low.Z = make([]float32, n*n)
	for i := range m.Z {
		p := m.Place(i%n, i/n)
		m.Z[i] = carve.NoWood
		low.Z[i] = carve.NoWood
		if z := h(p.X, p.Y); !math.IsNaN(z) {
			m.Z[i], low.Z[i] = float32(z), 0
		}
	}
	return carve.LayerColumns{Slab: stack.Slab{Number: 1, Top: panel}, PanelTop: panel, Top: m, Bottom: low}
}

func cut(t testing.TB, l carve.LayerColumns, w carve.Work) carve.LayerCut {
	t.Helper()
	c, err := carve.Cuts(context.Background(), []carve.LayerColumns{l}, w, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c[0]
}

// amid is a figure of a map near the middle, away from the rim of the sample.
func amid(m *carve.HeightMap, p geom.Vec2) float64 {
	i, j, ok := m.Nearest(p)
	if !ok {
		return math.NaN()
	}
	return float64(m.At(i, j))
}

var ball = stock.Cutter{Name: "6.35 mm ball nose", Shape: stock.Ball, Diameter: 6.35, CutLength: 25.4, Reach: 38, Shank: 6.35}

// TestVGroove: a ball of radius R in a groove of angle a touches both sides and stays R(1/sin(a/2) - 1) above its bottom
// (plane geometry).
func TestVGroove(t *testing.T) {
	R := ball.Diameter / 2
	for _, deg := range []float64{60, 75, 90, 120, 150} {
		half := deg / 2 * math.Pi / 180
		l := carved(141, 0.1, func(x, y float64) float64 { return min(1+math.Abs(x)/math.Tan(half), 18) })
		c := cut(t, l, carve.Work{Cutter: ball})
		want := R * (1/math.Sin(half) - 1)
		near(t, "residue at the bottom of the groove", amid(&c.Sides[carve.Up].Residue.Map, geom.Vec2{}), want, 0.002)
		if c.Sides[carve.Down].Residue.Max != 0 {
			t.Errorf("%g degrees: the flat underside keeps %g mm", deg, c.Sides[carve.Down].Residue.Max)
		}
	}
}

// TestVGrooveOfOtherShapes: how far a cutter's end stays above the bottom of a groove of angle a (plane geometry). A tapered
// ball goes as far as its tip does where the groove is wider than the cone; a bull nose with corners of radius r rests on both
// of them, r(1/sin(a/2) - 1) + (R - r)/tan(a/2) up; a flat end on its edges, R/tan(a/2).
func TestVGrooveOfOtherShapes(t *testing.T) {
	for _, deg := range []float64{75, 90, 120, 150} {
		half := deg / 2 * math.Pi / 180
		l := carved(141, 0.1, func(x, y float64) float64 { return min(1+math.Abs(x)/math.Tan(half), 18) })
		round := 1/math.Sin(half) - 1
		for _, tt := range []struct {
			c    stock.Cutter
			want float64
		}{
			{stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 10}, round},
			{stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1.5, TaperDeg: 25}, 1.5 * round},
			{stock.Cutter{Shape: stock.Bull, Diameter: 6, CornerRadius: 1}, round + 2/math.Tan(half)},
			{stock.Cutter{Shape: stock.Bull, Diameter: 6, CornerRadius: 2.5}, 2.5*round + 0.5/math.Tan(half)},
			{stock.Cutter{Shape: stock.Flat, Diameter: 6}, 3 / math.Tan(half)},
		} {
			c := cut(t, l, carve.Work{Cutter: tt.c}).Sides[carve.Up]
			// Columns every 0.1 mm are points: a rounding of r sinks in between them by 0.1²/8r, and as the axis may stand
			// anywhere, sharp corners by at most what the groove's side rises from one column to the next.
			within := 0.003 + 0.1/math.Tan(half)*math.Min(1, tt.c.Diameter/2-tt.c.TipRadius())
			if r := tt.c.TipRadius(); r > 0 {
				within += 0.1 * 0.1 / (8 * r)
			}
			if tt.c.Shape == stock.Taper {
				within = 0.003 + 0.1*0.1/(8*tt.c.CornerRadius)
			}
			near(t, fmt.Sprintf("%v of %g mm corners in %g degrees", tt.c.Shape, tt.c.CornerRadius, deg), amid(&c.Residue.Map, geom.Vec2{}), tt.want, within/tt.want)
		}
	}
}

// TestSteepGroove: a cone of 25° does not get into a groove of 40° as far as its tip would: the groove's sides, 20° off
// upright, meet the cone's upper edge at the diameter, (R/tan 20° - height of the edge there) up (plane geometry).
func TestSteepGroove(t *testing.T) {
	half := 20 * math.Pi / 180
	c := stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 25}
	l := carved(161, 0.05, func(x, y float64) float64 { return min(1+math.Abs(x)/math.Tan(half), 19) })
	edge, _ := c.Profile(3)
	left := cut(t, l, carve.Work{Cutter: c}).Sides[carve.Up].Residue
	got := amid(&left.Map, geom.Vec2{})
	near(t, "cone in a steep groove", got, 3/math.Tan(half)-edge, 0.16)
	if tip := 1/math.Sin(half) - 1; got < tip+0.5 {
		t.Errorf("%g mm stay, no more than the tip alone would leave (%g)", got, tip)
	}
}

// TestSlope: on a plane of angle a the tip of a ball stays R(1/cos a - 1) above the wood below it, that of a flat end
// R·tan a, and of a bull nose both together; none leaves wood on the plane (plane geometry).
func TestSlope(t *testing.T) {
	for _, deg := range []float64{0, 10, 30, 45} {
		a := deg * math.Pi / 180
		l := carved(81, 0.1, func(x, y float64) float64 { return 10 + x*math.Tan(a) })
		for _, tt := range []struct {
			name string
			c    stock.Cutter
			want float64
		}{
			{"ball", ball, 3.175 * (1/math.Cos(a) - 1)},
			{"flat", stock.Cutter{Shape: stock.Flat, Diameter: 6}, 3 * math.Tan(a)},
			{"bull", stock.Cutter{Shape: stock.Bull, Diameter: 6, CornerRadius: 1}, 2*math.Tan(a) + (1/math.Cos(a) - 1)},
			{"taper", stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 10}, 1 * (1/math.Cos(a) - 1)},
		} {
			c := cut(t, l, carve.Work{Cutter: tt.c, Past: 1}).Sides[carve.Up]
			got := amid(&c.Tip, geom.Vec2{}) - 10
			if math.Abs(got-tt.want) > 0.012 {
				t.Errorf("%s on %g degrees: the tip is %.4f mm above, want %.4f", tt.name, deg, got, tt.want)
			}
			if c.Residue.Map.Z != nil && amid(&c.Residue.Map, geom.Vec2{}) != 0 {
				t.Errorf("%s on %g degrees: %g mm stay", tt.name, deg, amid(&c.Residue.Map, geom.Vec2{}))
			}
			// What is left for a later cutter lies square to the slope: a/cos higher where a ball touches.
			left := cut(t, l, carve.Work{Cutter: tt.c, Leave: 0.5, Past: 1, Rough: true}).Sides[carve.Up]
			if got, want := amid(&left.Tip, geom.Vec2{})-10, tt.want+0.5/math.Cos(a); math.Abs(got-want) > 0.02 {
				t.Errorf("%s on %g degrees leaving 0.5 mm: the tip is %.4f mm above, want %.4f", tt.name, deg, got, want)
			}
		}
	}
}

// TestNoResidue: floors, domes and bowls rounder than the ball keep nothing.
func TestNoResidue(t *testing.T) {
	for _, tt := range []struct {
		name string
		h    func(x, y float64) float64
		most float64
	}{
		{"flat floor", func(x, y float64) float64 { return 7 }, 0},
		{"dome of 9 mm", func(x, y float64) float64 { return 1 + math.Sqrt(max(81-x*x-y*y, 0)) }, 0.02},
		{"bowl of 9 mm", func(x, y float64) float64 { return 12 - math.Sqrt(max(81-x*x-y*y, 9)) }, 0.02},
	} {
		l := carved(49, 0.25, tt.h)
		r := cut(t, l, carve.Work{Cutter: ball, Past: 1}).Sides[carve.Up].Residue
		for j := range l.Top.H {
			for i := range l.Top.W {
				if p := l.Top.Place(i, j); p.Len() < 4 && r.Map.Z != nil && float64(r.Map.At(i, j)) > tt.most {
					t.Fatalf("%s: %.4f mm stay at %v", tt.name, r.Map.At(i, j), p)
				}
			}
		}
	}
}

// TestTwin closes rough ground in float64, one offset at a time, and compares tip and residue.
func TestTwin(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for _, c := range []stock.Cutter{
		ball,
		{Shape: stock.Flat, Diameter: 5},
		{Shape: stock.Bull, Diameter: 8, CornerRadius: 1.5},
		{Shape: stock.Taper, Diameter: 7, CornerRadius: 0.75, TaperDeg: 6},
		{Shape: stock.Ball, Diameter: 0.3},
	} {
		for _, n := range []int{1, 3, 16, 22} {
			l := carved(n, 0.5, func(x, y float64) float64 {
				if rnd.Intn(4) == 0 {
					return math.NaN()
				}
				return panel * rnd.Float64()
			})
			w := carve.Work{Cutter: c, Past: 0.7}
			got := cut(t, l, w)
			for s := carve.Up; s <= carve.Down; s++ {
				seen := l.Seen(s)
				twin(t, &seen, &got.Sides[s], w)
			}
		}
	}
}

func twin(t *testing.T, seen *carve.HeightMap, got *carve.Cut, w carve.Work) {
	t.Helper()
	const off = 0.004 // three steps of 15 bits over panel and cutter
	high := func(i, j int) float64 {
		if i < 0 || j < 0 || i >= seen.W || j >= seen.H || seen.At(i, j) == carve.NoWood {
			return -w.Past
		}
		return float64(seen.At(i, j))
	}
	r := int(w.Cutter.Diameter/2/seen.Step) + 1
	each := func(do func(i, j int, rise float64)) {
		for j := -r; j <= r; j++ {
			for i := -r; i <= r; i++ {
				if e, ok := w.Cutter.Profile(seen.Step * math.Hypot(float64(i), float64(j))); ok {
					do(i, j, e)
				}
			}
		}
	}
	m := (got.Tip.W - seen.W) / 2
	tips := map[[2]int]float64{}
	wide := map[[2]int]float64{} // had every column half a step more all round, the most that walls may stand out
	for j := -r; j < seen.H+r; j++ {
		for i := -r; i < seen.W+r; i++ {
			z := -w.Past
			each(func(di, dj int, e float64) { z = max(z, high(i+di, j+dj)-e) })
			tips[[2]int{i, j}] = z
			for dj := -r - 1; dj <= r+1; dj++ {
				for di := -r - 1; di <= r+1; di++ {
					if e, ok := w.Cutter.Profile(max(seen.Step*(math.Hypot(float64(di), float64(dj))-0.5), 0)); ok {
						wide[[2]int{i, j}] = max(wide[[2]int{i, j}], high(i+di, j+dj)-e)
					}
				}
			}
			if x, y := i+m, j+m; x >= 0 && y >= 0 && x < got.Tip.W && y < got.Tip.H {
				if g := float64(got.Tip.At(x, y)); math.Abs(g-z) > off {
					t.Fatalf("%v: the tip at %d, %d is at %.4f mm, want %.4f", w.Cutter.Shape, i, j, g, z)
				}
			}
		}
	}
	// The axis may stand between columns, so that less stays than with axes on columns alone, where nothing may stay at all.
	closed := func(i, j int) (z, most float64) {
		z = math.Inf(1)
		each(func(di, dj int, e float64) {
			at := [2]int{i + di, j + dj}
			z, most = min(z, tips[at]+e), max(most, wide[at]+e)
		})
		return z, most
	}
	for j := range seen.H {
		for i := range seen.W {
			if seen.At(i, j) == carve.NoWood {
				continue
			}
			z, most := closed(i, j)
			g := 0.0
			if got.Residue.Map.Z != nil {
				g = float64(got.Residue.Map.At(i, j))
			}
			if z-high(i, j) < off/2 && g > 2*off || g < 0 || high(i, j)+g > most+off {
				t.Fatalf("%v: %.4f mm stay at %d, %d, with axes on columns %.4f", w.Cutter.Shape, g, i, j, z-high(i, j))
			}
		}
	}
}

// TestStairs: an upright wall askew to the columns keeps nothing, however deep the stairs that it makes are.
func TestStairs(t *testing.T) {
	for _, deg := range []float64{0, 3, 17, 30, 45, 71} {
		s, c := math.Sincos(deg * math.Pi / 180)
		for _, slope := range []float64{0.02, 0.1, 0.3} { // mm sideways for a mm of height
			l := carved(141, 0.5, func(x, y float64) float64 {
				if d := x*c + y*s; d < slope*panel {
					return panel - max(d, 0)/slope
				}
				return math.NaN()
			})
			got := cut(t, l, carve.Work{Cutter: ball, Past: 4})
			if r := got.Sides[carve.Up].Residue; r.Max > 0.05 {
				t.Errorf("%g degrees, slope %g: %.3f mm stay at %v", deg, slope, r.Max, r.At)
			}
			if r := got.Through; r.Max > 0.05 {
				t.Errorf("%g degrees, slope %g: %.3f mm stay between at %v", deg, slope, r.Max, r.At)
			}
		}
	}
}

// TestThrough: a slot narrower than the ball keeps wood between the two sides, a wider one nothing.
func TestThrough(t *testing.T) {
	for _, tt := range []struct {
		width float64
		stays bool
	}{{1, true}, {2, true}, {6, true}, {8, false}} {
		l := carved(61, 0.5, func(x, y float64) float64 {
			if math.Abs(x) < tt.width/2 {
				return math.NaN()
			}
			return panel
		})
		c := cut(t, l, carve.Work{Cutter: ball, Past: 0.5})
		if got := c.Through.Max > 0; got != tt.stays {
			t.Errorf("a slot of %g mm: %g mm stay", tt.width, c.Through.Max)
		}
	}
}
