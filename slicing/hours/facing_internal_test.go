package hours

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
)

// upright is a block of 60 x 40 mm in a board of 16 mm, with floors so deep beside it on either side, as paths for a machine want it.
func upright(s Setup, margin float64, deep float64) *Ground {
	const step, a, b = 0.3, 60.0, 40.0
	pad := margin + 3
	g := &Ground{Step: step, W: int((a + 2*pad) / step), H: int((b + 2*pad) / step), Thickness: 16, Skim: 0.9}
	off := func(x, y float64) float64 {
		return math.Hypot(max(pad-x, x-pad-a, 0), max(pad-y, y-pad-b, 0))
	}
	height := func(x, y float64) float64 {
		if off(x, y) < s.Rough.Diameter/2+s.Leave {
			return g.Thickness + s.Leave
		}
		return g.Thickness - deep
	}
	g.mayRough.Reset(g.W, g.H)
	g.mayFinish.Reset(g.W, g.H)
	g.Rough = make([]float32, g.W*g.H)
	for j := range g.H {
		for i := range g.W {
			x, y := float64(i)*step, float64(j)*step
			g.Rough[j*g.W+i] = float32(height(x, y))
			if off(x, y) < margin-s.Rough.Diameter/2 {
				g.mayRough.Set(i, j)
				g.mayFinish.Set(i, j)
			}
		}
	}
	g.Finish = g.Rough
	g.exact[0] = func(x, y, least float64) float64 { return max(height(x, y), least) }
	return g
}

// TestFacing: where side A has taken all that lies below, side B does not go, and nothing stays there that would be gone otherwise.
// The simulated hours say the same.
func TestFacing(t *testing.T) {
	c := stocktest.Catalogue(t)
	rough, _ := c.Cutter(c.First.Rough)
	finish, _ := c.Cutter(c.First.Finish)
	machine, _ := c.Machine(c.First.Machine)
	s := Defaults(rough, finish, machine)
	for name, one := range map[string]struct{ margin, deepA, deepB, least, most float64 }{
		"one side through":    {30, 15.9, 15.9, 0.55, 0.8},
		"both sides to share": {30, 11.5, 11.5, 0.1, 0.5},
		"a narrow gap":        {s.Margin(), 11.5, 11.5, 0.02, 0.4},
		"a floor between":     {30, 7, 7, 0, 0}, // the two never meet
	} {
		t.Run(name, func(t *testing.T) {
			var gone [2][]bool
			var metres, hours [2]float64
			for known := range gone {
				up, down := upright(s, one.margin, one.deepA), upright(s, one.margin, one.deepB)
				if known == 1 {
					Facing(up, down)
				}
				for _, g := range []*Ground{up, down} {
					trip, err := Trace(context.Background(), g, s, Rough, geom.Vec2{}, func(geom.Vec, float64) {})
					if err != nil {
						t.Fatal(err)
					}
					metres[known] = trip.Metres
				}
				for i, z := range up.traced[0].standing.z {
					gone[known] = append(gone[known], z+down.traced[0].standing.z[i] <= float32(up.Thickness+levelSlack))
				}
				up.exact, down.exact = Ground{}.exact, Ground{}.exact
				up.traced = nil
				times, err := SimulateAll(context.Background(), []*Ground{down}, s)
				if err != nil {
					t.Fatal(err)
				}
				hours[known] = times[0].RoughMetres
			}
			for what, m := range map[string][2]float64{"program": metres, "hours": hours} {
				share := 1 - m[1]/m[0]
				t.Logf("%s: %.2f m of side B are cut, %.2f m without knowing of side A: %.0f %% less", what, m[1], m[0], 100*share)
				if share < one.least-1e-9 || share > one.most+1e-9 {
					t.Errorf("%s: %.2f m of side B are cut, %.2f m without knowing of side A", what, m[1], m[0])
				}
			}
			stays := 0
			for i, was := range gone[0] {
				if was && !gone[1][i] {
					stays++
				}
			}
			if stays > 0 {
				t.Errorf("%d columns stay that would be gone otherwise", stays)
			}
		})
	}
}
