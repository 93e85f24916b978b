package field

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// wavy is a ring of n points about c, of radius r and a little more or less.
func wavy(c geom.Vec2, r, wave float64, n int, rnd *rand.Rand) geom.Ring {
	var out geom.Ring
	for i := range n {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		d := r + wave*rnd.Float64()
		out = append(out, geom.Vec2{X: c.X + d*co, Y: c.Y + d*s})
	}
	return out
}

// TestRimAgainstAllPairs holds the rim against every point measured to every side.
func TestRimAgainstAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for range 30 {
		outline := geom.Region{wavy(geom.Vec2{}, 100, 10, 50+rnd.Intn(300), rnd), wavy(geom.Vec2{X: 300}, 50, 5, 40, rnd)}
		core := geom.Region{wavy(geom.Vec2{X: 10}, 60, 15, 30+rnd.Intn(300), rnd), wavy(geom.Vec2{X: 300 + 5*rnd.Float64()}, 20, 15, 40, rnd)}
		want := math.Inf(1)
		for _, p := range [][2]geom.Region{{core, outline}, {outline, core}} {
			for _, s := range sidesOf(p[0]) {
				for _, o := range sidesOf(p[1]) {
					want = min(want, plane.Apart(s.a, o.a, o.b))
				}
			}
		}
		got, ok := NarrowestRim(core, outline)
		near(t, "rim", got.Width, want, 1e-9)
		near(t, "way between its ends", got.Core.Sub(got.Edge).Len(), want, 1e-9)
		back, _ := NarrowestRim(outline, core)
		near(t, "rim the other way round", back.Width, want, 1e-9)
		near(t, "its end", back.Edge.Sub(got.Core).Len(), 0, 1e-9)
		if !ok {
			t.Error("no rim")
		}
	}
}

func TestRimCases(t *testing.T) {
	square := func(x, y, side float64) geom.Region {
		return geom.Region{{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}}
	}
	for _, tt := range []struct {
		name          string
		core, outline geom.Region
		width         float64
		ok            bool
	}{
		{"square in square", square(10, 8, 50), square(0, 0, 100), 8, true},
		{"no core", nil, square(0, 0, 100), 0, false},
		{"no outline", square(0, 0, 1), geom.Region{}, 0, false},
		{"crossing far from any corner", square(-50, 40, 10), square(-45, 0, 100), 0, true},
		{"far outside", square(1e6, 0, 1), square(0, 0, 100), 1e6 - 100, true},
		{"one point", geom.Region{{{X: 3}}}, geom.Region{{{X: 10}}}, 7, true},
	} {
		got, ok := NarrowestRim(tt.core, tt.outline)
		if ok != tt.ok || math.Abs(got.Width-tt.width) > 1e-6 {
			t.Errorf("%s: %+v %v", tt.name, got, ok)
		}
	}
}
