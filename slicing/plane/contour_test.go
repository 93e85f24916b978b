package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
)

// TestAbove: a hill of concentric figures is above a level in a disc of the radius where it falls to it; a basin leaves the
// rest of the grid but its border.
func TestAbove(t *testing.T) {
	const n, top = 61, 30.0
	v := make([]float32, n*n)
	for i := range v {
		v[i] = float32(top - math.Hypot(float64(i%n)-30, float64(i/n)-30))
	}
	for _, r := range []float64{5, 12.5, 25} {
		g := Above(v, n, float32(top-r))
		if a := g.Area(); len(g) != 1 || math.Abs(a-math.Pi*r*r) > 0.02*math.Pi*r*r {
			t.Errorf("above %g: %d rings, %.1f of %.1f", top-r, len(g), a, math.Pi*r*r)
		}
		for i := range v {
			v[i] = -v[i]
		}
		if g := Above(v, n, float32(r-top)); len(g) != 2 || g.Area() > 60*60 {
			t.Errorf("a basin has %d rings, %.1f", len(g), g.Area())
		}
		for i := range v {
			v[i] = -v[i]
		}
	}
}

// TestContoursContain: a place is within the contours where its figure is above zero, whatever the figures: also where
// opposite corners of a square meet.
func TestContoursContain(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 6))
	for range 200 {
		g := Grid{Origin: geom.Vec2{X: -3, Y: 5}, Step: 0.5, NX: 3 + rnd.IntN(12), NY: 3 + rnd.IntN(12)}
		g.V = make([]float32, g.NX*g.NY)
		for i := range g.V {
			if g.V[i] = rnd.Float32() - 0.5; i%g.NX == 0 || i%g.NX == g.NX-1 || i < g.NX || i >= g.NX*(g.NY-1) {
				g.V[i] = -rnd.Float32()
			}
		}
		lines := g.Contours()
		for i, v := range g.V {
			p := g.Origin.Add(geom.Vec2{X: float64(i % g.NX), Y: float64(i / g.NX)}.Scale(g.Step))
			if lines.Contains(p) != (v > 0) {
				t.Fatalf("place %d with figure %g is within: %v", i, v, lines.Contains(p))
			}
		}
	}
}

// TestContoursOfNothing: what has no square has no lines, and a place that lies at zero itself is outside.
func TestContoursOfNothing(t *testing.T) {
	for _, g := range []Grid{{}, {NX: 1, NY: 1, V: []float32{1}}, {NX: 3, NY: 1, V: make([]float32, 3)}, {NX: 3, NY: 3, V: make([]float32, 9)}} {
		if r := g.Contours(); r != nil {
			t.Errorf("%d x %d: got %v", g.NX, g.NY, r)
		}
	}
}
