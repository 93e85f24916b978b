package stock_test

import (
	"math"
	"strings"
	"testing"

	"grainstack/slicing/stock"
)

// TestProfile holds the height of each shape's edge against plane geometry.
func TestProfile(t *testing.T) {
	flat := stock.Cutter{Shape: stock.Flat, Diameter: 6}
	ball := stock.Cutter{Shape: stock.Ball, Diameter: 6}
	bull := stock.Cutter{Shape: stock.Bull, Diameter: 6, CornerRadius: 1}
	taper := stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 30}
	for _, tt := range []struct {
		c    stock.Cutter
		d    float64
		want float64
	}{
		{flat, 0, 0}, {flat, 3, 0},
		{ball, 0, 0}, {ball, 3, 3}, {ball, 1.8, 0.6}, // 1.8, 2.4 and 3 make a right angle
		{bull, 2, 0}, {bull, 3, 1}, {bull, 2.6, 0.2}, // as do 0.6, 0.8 and 1
		{taper, 0, 0}, {taper, 0.6, 0.2},
		{taper, math.Sqrt(3) / 2, 0.5},     // where the cone leaves the ball
		{taper, 3, 3*math.Sqrt(3) + 1 - 2}, // the cone's point lies r/sin 30° below the ball's middle
	} {
		got, ok := tt.c.Profile(-tt.d)
		if !ok || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%v at %g mm: got %g, %v, want %g", tt.c.Shape, tt.d, got, ok, tt.want)
		}
		if _, ok := tt.c.Profile(3.001); ok {
			t.Errorf("%v has an edge beyond its diameter", tt.c.Shape)
		}
	}
}

// TestWidthAt: the width at the height of the edge is twice its distance from the axis (TestProfile), and the diameter
// above the rounding.
func TestWidthAt(t *testing.T) {
	for _, c := range []stock.Cutter{
		{Shape: stock.Ball, Diameter: 6}, {Shape: stock.Bull, Diameter: 6, CornerRadius: 1}, {Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 30},
	} {
		for d := 0.0; d <= 3; d += 0.05 {
			h, _ := c.Profile(d)
			if c.Shape == stock.Bull && d <= 2 {
				continue // one height, many widths
			}
			if got := c.WidthAt(h); math.Abs(got-2*d) > 1e-6 {
				t.Errorf("%v at %g mm: %g wide, want %g", c.Shape, h, got, 2*d)
			}
		}
		if got := c.WidthAt(50); got != 6 {
			t.Errorf("%v far up: %g wide", c.Shape, got)
		}
	}
	if got := (stock.Cutter{Shape: stock.Flat, Diameter: 6}).WidthAt(0); got != 6 {
		t.Errorf("a flat end is %g wide", got)
	}
}

// TestGrown: every point of the grown edge lies as far from the edge as it has grown.
func TestGrown(t *testing.T) {
	const more = 0.7
	for _, c := range []stock.Cutter{
		{Shape: stock.Flat, Diameter: 6},
		{Shape: stock.Ball, Diameter: 6},
		{Shape: stock.Bull, Diameter: 6, CornerRadius: 1},
		{Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 20},
	} {
		g := c.Grown(more)
		for d := 0.0; d < 2.9; d += 0.1 {
			z, ok := g.Profile(d)
			if !ok {
				t.Fatalf("%v: no edge at %g mm", c.Shape, d)
			}
			z -= more // its tip lies lower
			near := math.Inf(1)
			for x := -3.0; x <= 3; x += 0.001 {
				e, _ := c.Profile(x)
				near = min(near, math.Hypot(x-d, e-z))
			}
			if math.Abs(near-more) > 1e-5 {
				t.Errorf("%v: the grown edge at %g mm is %g mm away", c.Shape, d, near)
			}
		}
	}
	if c := (stock.Cutter{Shape: stock.Flat, Diameter: 6}); c.Grown(0).Shape != stock.Flat {
		t.Error("nothing grown changes the shape")
	}
}

// TestEnds: corner radius and taper are asked for where the shape has them, and refused elsewhere.
func TestEnds(t *testing.T) {
	for _, tt := range []struct{ cutter, fault string }{
		{`"shape":"bull","diameter":6,"cornerRadius":1`, ""},
		{`"shape":"taper","diameter":6,"cornerRadius":1,"taperDeg":5`, ""},
		{`"shape":"bull","diameter":6`, "cornerRadius is missing"},
		{`"shape":"bull","diameter":6,"cornerRadius":3.1`, "cornerRadius is 3.1, wants more than 0 and at most half the diameter"},
		{`"shape":"bull","diameter":6,"cornerRadius":0`, "cornerRadius is 0"},
		{`"shape":"taper","diameter":6,"cornerRadius":1`, "taperDeg is missing"},
		{`"shape":"taper","diameter":6,"cornerRadius":1,"taperDeg":90`, "taperDeg is 90, wants 0.5 to 60"},
		{`"shape":"ball","diameter":6,"cornerRadius":1`, "cornerRadius is given, but a ball cutter has none"},
		{`"shape":"bull","diameter":6,"cornerRadius":1,"taperDeg":5`, "taperDeg is given, but a bull cutter has none"},
	} {
		_, err := load(strings.Replace(small, `"shape":"ball","diameter":6`, tt.cutter, 1))
		switch {
		case tt.fault == "" && err != nil:
			t.Errorf("%s: %v", tt.cutter, err)
		case tt.fault != "" && (err == nil || !strings.Contains(err.Error(), tt.fault)):
			t.Errorf("%s: got %v, want %s", tt.cutter, err, tt.fault)
		}
	}
}
