package hours

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// pits is a ground that may be cut to a level floor within rings, seen from above as middle, outer and inner radius in mm.
func pits(deep float64, rings ...[4]float64) *Ground {
	const step = 0.3
	g := &Ground{Step: step, W: 700, H: 500, Thickness: 16, Skim: 0.9}
	g.mayRough.Reset(g.W, g.H)
	g.Rough = make([]float32, g.W*g.H)
	for j := range g.H {
		for i := range g.W {
			g.Rough[j*g.W+i] = float32(g.Thickness - deep)
			for _, r := range rings {
				if d := math.Hypot(float64(i)*step-r[0], float64(j)*step-r[1]); d < r[2] && d > r[3] {
					g.mayRough.Set(i, j)
				}
			}
		}
	}
	g.mayFinish, g.Finish = g.mayRough, g.Rough
	return g
}

// plainRapid is the rapid way in metres of a rough pass that takes rows as they come: level by level over all of the side, row by row,
// to and fro. It goes on to the next row without a lift where that lies beside the run just cut, or else by the safe height.
func plainRapid(g *Ground, s Setup) float64 {
	safe, above := g.Thickness+g.Skim+s.SafeHeight, g.Thickness+g.Skim
	rows := s.Rough.Stepover / g.Step
	mm, at, z := 0.0, geom.Vec2{X: float64(g.W) / 2 * g.Step, Y: float64(g.H) / 2 * g.Step}, safe
	for _, level := range g.Levels(s) {
		last := plane.Run{Row: -9}
		for k := 0; ; k++ {
			j := int(math.Round(rowAt(k, rows)))
			if j >= g.H {
				break
			}
			for _, r := range g.mayRough.Runs(nil, j, k) {
				from := geom.Vec2{X: float64(r.From) * g.Step, Y: float64(j) * g.Step}
				to := geom.Vec2{X: float64(r.To) * g.Step, Y: from.Y}
				if k%2 == 1 {
					from, to = to, from
				}
				if r.Row != last.Row+1 || r.From > last.To || last.From > r.To {
					mm += safe - z + from.Sub(at).Len() + safe - min(above+landing, safe)
				}
				last, at, z = r, to, level
			}
		}
		above = level
	}
	return (mm + safe - z) / 1000
}

// TestFewerRapids: where what is to be cut has holes or hangs together in several places, the rough pass goes fewer metres at rapid
// than rows in plain order would, though it also goes to walls and frame.
func TestFewerRapids(t *testing.T) {
	c := stocktest.Catalogue(t)
	rough, _ := c.Cutter(c.First.Rough)
	finish, _ := c.Cutter(c.First.Finish)
	machine, _ := c.Machine(c.First.Machine)
	s := Defaults(rough, finish, machine)
	ring := [4]float64{60, 70, 50, 25}
	other := [4]float64{155, 70, 40, 30}
	for name, one := range map[string]struct {
		rings [][4]float64
		share float64 // of the plain way at the most
	}{
		"a ring":                 {[][4]float64{ring}, 0.5},
		"two rings":              {[][4]float64{ring, other}, 0.25},
		"a ring and discs in it": {[][4]float64{ring, other, {60, 70, 12, -1}, {155, 70, 15, -1}}, 0.25},
	} {
		t.Run(name, func(t *testing.T) {
			g := pits(12, one.rings...)
			middle := geom.Vec2{X: float64(g.W) / 2 * g.Step, Y: float64(g.H) / 2 * g.Step}
			trip, err := Trace(context.Background(), g, s, Rough, middle, func(geom.Vec, float64) {})
			if err != nil {
				t.Fatal(err)
			}
			plain := plainRapid(g, s)
			t.Logf("%.2f m at rapid, %.2f m in plain order", trip.RapidMetres, plain)
			if !(trip.RapidMetres < one.share*plain) {
				t.Errorf("%.2f m at rapid, %.2f m in plain order", trip.RapidMetres, plain)
			}
		})
	}
}
