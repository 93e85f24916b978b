package carve_test

import (
	"fmt"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// residueCutters have a rounded end; foot is the area that they leave at the foot of an upright wall higher than the
// rounding, mm² (plane geometry: a square of the radius less a quarter of a circle; behind a cone the wedge between its
// side and the wall comes on top).
var residueCutters = []struct {
	name string
	c    stock.Cutter
	foot func(wall float64) float64

	rounding float64 // mm
}{
	{"ball", stock.Cutter{Shape: stock.Ball, Diameter: 6.35}, func(float64) float64 { return fillet(3.175) }, 3.175},
	{"large ball", stock.Cutter{Shape: stock.Ball, Diameter: 12.7}, func(float64) float64 { return fillet(6.35) }, 6.35},
	{"bull nose", stock.Cutter{Shape: stock.Bull, Diameter: 8, CornerRadius: 2}, func(float64) float64 { return fillet(2) }, 2},
	{"tapered ball", stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1.5, TaperDeg: 20}, coneFoot, 1.5},
}

func fillet(r float64) float64 { return r * r * (1 - math.Pi/4) }

// coneFoot is the area between an upright wall, the floor and a cone of 20 degrees with a ball of 1.5 mm and a diameter of
// 6 mm that touches the wall: up to where it touches, the integral of its profile's distance from the wall.
func coneFoot(wall float64) float64 {
	c := stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1.5, TaperDeg: 20}
	sum, n := 0.0, 100000
	for k := range n {
		h, _ := c.Profile(3 * (float64(k) + 0.5) / float64(n))
		sum += min(h, wall) * 3 / float64(n)
	}
	return sum
}

// strip is what stays in a band of the middle of a sample, for each mm of its length.
func strip(r *carve.Residue, from, to float64, along geom.Vec2) float64 {
	if r.Map.Z == nil {
		return 0
	}
	sum := 0.0
	for j := range r.Map.H {
		for i := range r.Map.W {
			if u := r.Map.Place(i, j).Dot(along); u >= from && u < to {
				sum += float64(r.Map.At(i, j))
			}
		}
	}
	return sum * r.Map.Step * r.Map.Step / (to - from)
}

// TestStepKeepsItsFoot: a step of 8 mm keeps a strip along its foot, whatever way the wall runs and wherever it lies between
// the columns. The strip is as wide as the cutter's rounding, so a single one is true to a share of a column in that; the mean
// over all ways and places is true to a twentieth.
func TestStepKeepsItsFoot(t *testing.T) {
	for _, tt := range residueCutters {
		want := tt.foot(8)
		steps := []float64{0.5}
		if tt.name == "ball" {
			steps = []float64{0.25, 0.5}
		}
		for _, step := range steps {
			mean, n := 0.0, 0
			for _, deg := range []float64{0, 3, 10, 26.565, 45, 71} {
				for _, off := range []float64{0.01, 0.13, 0.31, 0.47} {
					s, c := math.Sincos(deg * math.Pi / 180)
					l := carved(int(30/step), step, func(x, y float64) float64 {
						if x*c+y*s < off {
							return 12
						}
						return 4
					})
					r := cut(t, l, carve.Work{Cutter: tt.c, Past: 1}).Sides[carve.Up].Residue
					got := strip(&r, -5, 5, geom.Vec2{X: -s, Y: c})
					mean, n = mean+got, n+1
					near(t, fmt.Sprintf("%s, columns every %g mm, %g degrees, %g mm off: foot of the step", tt.name, step, deg, off), got, want, 0.7*step/tt.rounding)
				}
			}
			near(t, fmt.Sprintf("%s, columns every %g mm: mean", tt.name, step), mean/float64(n), want, 0.05)
		}
	}
}

// TestGrooveKeepsItsBottom: over a V-groove of angle a stays what lies between its sides and the circle that touches both,
// R²(1/tan(a/2) - (π/2 - a/2)) (plane geometry).
func TestGrooveKeepsItsBottom(t *testing.T) {
	for _, deg := range []float64{75, 90, 120, 150} {
		half := deg / 2 * math.Pi / 180
		want := 3.175 * 3.175 * (1/math.Tan(half) - (math.Pi/2 - half))
		within := 0.06
		if wide := 2 * 3.175 * math.Cos(half); wide < 4*0.5 { // between where the ball touches: too few columns for more
			within = 0.3
		}
		for _, turn := range []float64{0, 17, 45} {
			for _, off := range []float64{0, 0.2} {
				s, c := math.Sincos(turn * math.Pi / 180)
				l := carved(73, 0.5, func(x, y float64) float64 {
					return min(1+math.Abs(x*c+y*s-off)/math.Tan(half), 18)
				})
				r := cut(t, l, carve.Work{Cutter: ball, Past: 1}).Sides[carve.Up].Residue
				got := strip(&r, -5, 5, geom.Vec2{X: -s, Y: c})
				near(t, fmt.Sprintf("%g degrees, turned %g, %g off", deg, turn, off), got, want, within)
			}
		}
	}
}

// TestCornerKeepsItsEdges: over the square of R where two upright faces 8 mm high meet the level, all wood stays outside an
// upright quarter cylinder, and within it what lies below the ball (plane geometry).
func TestCornerKeepsItsEdges(t *testing.T) {
	R := 3.175
	for _, off := range []float64{0.01, 0.26} {
		for _, turn := range []float64{0, 25} {
			s, c := math.Sincos(turn * math.Pi / 180)
			l := carved(81, 0.5, func(x, y float64) float64 {
				if u, v := x*c+y*s, y*c-x*s; u < off || v < off {
					return 12
				}
				return 4
			})
			r := cut(t, l, carve.Work{Cutter: ball, Past: 1}).Sides[carve.Up].Residue
			got := 0.0
			for j := range r.Map.H {
				for i := range r.Map.W {
					p := r.Map.Place(i, j)
					if u, v := p.X*c+p.Y*s, p.Y*c-p.X*s; u > off && v > off && u < off+R && v < off+R {
						got += float64(r.Map.At(i, j)) * 0.25
					}
				}
			}
			want := 8*fillet(R) + math.Pi/4*R*R*R - math.Pi/6*R*R*R
			near(t, fmt.Sprintf("corner %g off, turned %g", off, turn), got, want, 0.12)
		}
	}
}
