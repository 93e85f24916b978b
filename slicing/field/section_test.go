package field

import (
	"context"
	"math"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestCoreSection holds outlines against shapes that are known.
func TestCoreSection(t *testing.T) {
	ball := build(t, solidtest.Sphere(50, 50_000), 100)
	for _, w := range []float64{0, 5, 12, 30} {
		for _, z := range []float64{0, 10, -15} {
			r2 := (50-w)*(50-w) - z*z
			s := ball.CoreSection(geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1}, z, w, 1)
			if len(s) != 1 {
				t.Fatalf("ball, wall %v: %d rings", w, len(s))
			}
			round := 2 * math.Pi * math.Sqrt(r2)
			near(t, "circle", s.Area(), math.Pi*r2, 0.04*round) // the contour lies within 4 % of a step
			near(t, "circle round", s.Perimeter(), round, 0.003*round)
		}
	}
	ring := build(t, solidtest.Torus(40, 12, 256, 128), 150)
	s := ring.CoreSection(still, 0, 4, 1)
	if len(s) != 2 || s[0].Area()*s[1].Area() >= 0 {
		t.Fatalf("ring: %d rings", len(s))
	}
	near(t, "flat ring", s.Area(), math.Pi*(48*48-32*32), 0.004*math.Pi*(48*48-32*32))
	if !s.Contains(geom.Vec2{X: 40}) || s.Contains(geom.Vec2{}) {
		t.Error("ring: the hole is in, or the rest is out")
	}
	up := ring.CoreSection(geom.Placement{Turn: geom.TurnXYZ(90, 0, 0), Scale: 2}, 0, 8, 2)
	if len(up) != 2 || up[0].Area() < 0 || up[1].Area() < 0 {
		t.Fatalf("ring stood up: %d rings", len(up))
	}
	near(t, "two circles", up.Area(), 2*math.Pi*16*16, 0.01*2*math.Pi*16*16)
	for _, z := range []float64{60, -60, math.NaN()} {
		if s := ball.CoreSection(still, z, 0, 1); s != nil {
			t.Errorf("a section at %v misses the ball, has %d rings", z, len(s))
		}
	}
	if s := ball.CoreSection(still, 0, 0, 0); s != nil {
		t.Error("a spacing of 0 passes")
	}
	if s := ball.CoreSection(still, 0, 10, 1e-300); len(s) != 1 {
		t.Error("a tiny spacing fails")
	}
}

// TestOddSections: what no maker asks for ends soon, with nothing.
func TestOddSections(t *testing.T) {
	g := build(t, solidtest.Box(100, 70, 40), 20)
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct{ z0, z1, wall, spacing, scale float64 }{
		{-1e300, 1e300, 1, 1, 1}, {-inf, inf, 1, 1, 1}, {nan, nan, 1, 1, 1}, {10, 20, nan, 1, 1}, {10, 20, inf, 1, 1},
		{10, 20, 1, nan, 1}, {10, 20, 1, inf, 1}, {10, 20, 1, 1, 0}, {10, 20, 1, 1, nan}, {-5, 20, 1, 1, 1}, {20, 45, 1, 1, 1},
	} {
		pl := geom.Placement{Turn: geom.NoTurn(), Scale: tt.scale}
		if r := g.straightCore(pl, tt.z0, tt.z1, tt.wall, tt.spacing); r != nil {
			t.Errorf("%+v gives %d rings", tt, len(r))
		}
	}
}

// plain is the slow obvious twin: every sample measured, at many heights.
func plain(g *Grid, pl geom.Placement, z0, z1, wall, spacing float64, heights int) geom.Region {
	s, _ := g.newSampler(pl, z0, z1, wall, spacing)
	for i := range s.V {
		least := math.Inf(1)
		for n := range heights {
			z := z0 + (z1-z0)*float64(n)/float64(max(heights-1, 1))
			p := geom.Vec{X: s.Origin.X + float64(i%s.NX)*spacing, Y: s.Origin.Y + float64(i/s.NX)*spacing, Z: z}
			least = min(least, g.Depth(pl.Back(p))*pl.Scale-wall)
		}
		s.V[i] = float32(least)
	}
	return s.Contours()
}

// TestSkippingSamples: passing over samples and heights does not change the outline.
func TestSkippingSamples(t *testing.T) {
	g := build(t, solidtest.Bumpy(50, 50_000), 100)
	pl, h := stood(g, geom.TurnXYZ(20, 40, 60), 1.5)
	for _, w := range []float64{0, 4, 10, 20} {
		for z := h / 8; z < h; z += h / 8 {
			fast, slow := g.CoreSection(pl, z, w, 1.5), plain(g, pl, z, z, w, 1.5, 1)
			if len(fast) != len(slow) {
				t.Fatalf("at %v, wall %v: %d rings, want %d", z, w, len(fast), len(slow))
			}
			near(t, "area", fast.Area(), slow.Area(), 1e-4*slow.Area())
			near(t, "perimeter", fast.Perimeter(), slow.Perimeter(), 1e-4*slow.Perimeter())
			fast, slow = g.straightCore(pl, z, z+16, w, 1.5), plain(g, pl, z, z+16, w, 1.5, 65)
			near(t, "upright core", fast.Area(), slow.Area(), 0.1*slow.Perimeter()+1)
		}
	}
}

// TestStraightCore: an upright pocket in a ball is as wide as its narrower end, and its volume is no more than the core's.
func TestStraightCore(t *testing.T) {
	g := build(t, solidtest.Sphere(50, 50_000), 100)
	pl := geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1, Shift: geom.Vec{Z: 50}}
	slabs := layersOf(100, 16)
	tb := table(t, g, pl, 100)
	all, err := g.StraightCores(context.Background(), pl, slabs, 8, 1, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range slabs {
		far := max(math.Abs(s.Bottom-50), math.Abs(s.Top-50))
		want := max(math.Pi*(42*42-far*far), 0)
		near(t, "pocket", all[i].Area(), want, 0.01*want+1)
		v := all[i].Area() * (s.Top - s.Bottom)
		near(t, "volume", v, want*(s.Top-s.Bottom), 0.01*want*16+16)
		if core := tb.CoreVolume(s.Bottom, s.Top, 8); v > core*1.001+1 {
			t.Errorf("layer %d: the upright pocket has %v mm³, the carved one %v", i+1, v, core)
		}
	}
}

func TestDropSpecks(t *testing.T) {
	square := func(x, y, side float64) geom.Ring {
		return geom.Ring{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}
	}
	hole := func(x, y, side float64) geom.Ring {
		r := square(x, y, side)
		slices.Reverse(r)
		return r
	}
	big, island := square(0, 0, 100), hole(40, 40, 2)
	speck, inSpeck := square(200, 0, 5), hole(201, 1, 2)
	all := geom.Region{inSpeck, big, speck, island}
	for _, tt := range []struct {
		least float64
		want  int
	}{{0, 4}, {24, 4}, {26, 2}, {1e6, 0}} {
		if got := dropSpecks(all, tt.least); len(got) != tt.want {
			t.Errorf("least %v: %d rings stay, want %d", tt.least, len(got), tt.want)
		}
	}
	if len(all) != 4 || all[2].Area() != 25 {
		t.Error("what was given has changed")
	}
}
