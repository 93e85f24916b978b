package carve_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// round is the hollow of a ball, known exactly.
type round struct {
	middle geom.Vec
	r      float64
}

type roundLine struct {
	round
	y float64
}

func (h round) Row(y float64) carve.Line { return roundLine{h, y} }

func (l roundLine) Column(out []carve.Span, x, bottom, top float64) []carve.Span {
	dx, dy := x-l.middle.X, l.y-l.middle.Y
	s := l.r*l.r - dx*dx - dy*dy
	if s <= 0 {
		return out
	}
	lo, hi := max(bottom, l.middle.Z-math.Sqrt(s)), min(top, l.middle.Z+math.Sqrt(s))
	if lo < hi {
		out = append(out, carve.Span{Bottom: lo, Top: hi})
	}
	return out
}

// TestHollowBall: a ball of radius 50 with a wall of 8. The layer round its middle, from -h to h, hides the rim of the hollow:
// a line at distance p from the axis is in it over 2s, s = sqrt(42² - p²), and is shut in where s < h, which makes
// 4·pi·h³/3 whatever the radius. All other layers open their hollow to one side.
func TestHollowBall(t *testing.T) {
	const R, wall, h = 50.0, 8.0, 10.0
	p := place(t, solidtest.Sphere(R, 40000))
	grid, err := field.Build(context.Background(), p.Mesh, 160, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name   string
		hollow carve.Hollow
		within float64
	}{
		{"exact", round{geom.Vec{Z: R}, R - wall}, 0.01},
		{"from the field", carve.Carved{Grid: grid, Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1}, Wall: wall, Top: 2 * R}, 0.03},
	} {
		t.Run(tt.name, func(t *testing.T) {
			slabs := layers(t, p.Box.Size().Z, 2*h)
			cs := reach(t, p.Mesh, slabs, carve.Options{Step: 0.2, Hollow: tt.hollow})
			wood, outside, core := sums(cs)
			inner := 4 * math.Pi / 3 * math.Pow(R-wall, 3)
			// What is shut in is no wood of the piece; check-values D5 has the shell at wall 8.
			near(t, "wood", wood, 213259.687, 0.005)
			near(t, "core", core, 4*math.Pi/3*h*h*h, tt.within)
			if outside != 0 {
				t.Errorf("%g mm³ of air trapped outside", outside)
			}
			whole := reach(t, p.Mesh, []stack.Slab{{Number: 1, Top: 2 * R}}, carve.Options{Hollow: tt.hollow})
			near(t, "core shut in one layer", whole[0].Core.Volume, inner, 0.005)
			bodies := whole[0].Core.Bodies(1)
			if len(bodies) != 1 || bodies[0].Center.Sub(geom.Vec{Z: R}).Len() > 0.1 || math.Abs(bodies[0].Max-2*(R-wall)) > 0.1 {
				t.Errorf("bodies: %+v", bodies)
			}
		})
	}
}

// TestCapped: where the hollow ends at a height, solid layers stay.
func TestCapped(t *testing.T) {
	p := place(t, solidtest.Sphere(50, 20000))
	grid, err := field.Build(context.Background(), p.Mesh, 100, nil)
	if err != nil {
		t.Fatal(err)
	}
	slabs := layers(t, p.Box.Size().Z, 20)
	solid := reach(t, p.Mesh, slabs, carve.Options{Step: 1})
	o := carve.Options{Step: 1, Hollow: carve.Carved{Grid: grid, Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1}, Wall: 8,
		Bottom: slabs[1].Bottom, Top: slabs[4].Bottom}}
	for k, l := range reach(t, p.Mesh, slabs, o) {
		capped := k == 0 || k == 4
		if less := l.Wood < solid[k].Wood*0.9; less == capped {
			t.Errorf("layer %d: %.0f mm³ of %.0f", l.Number, l.Wood, solid[k].Wood)
		}
	}
}

// TestPockets: an upright pocket through its layer is seen from both sides; one inside a layer is shut in.
func TestPockets(t *testing.T) {
	p := place(t, solidtest.Box(60, 60, 40))
	var outline, island geom.Ring
	for i := range 720 {
		s, c := math.Sincos(float64(i) / 720 * 2 * math.Pi)
		outline = append(outline, geom.Vec2{X: 20 * c, Y: 20 * s})
		island = append(island, geom.Vec2{X: 8 * c, Y: -8 * s})
	}
	region := geom.Region{outline, island}
	pocket := carve.Pockets{{Slab: stack.Slab{Bottom: 10, Top: 20}, Region: region}, {Slab: stack.Slab{Bottom: 20, Top: 30}, Region: region}}
	wood, outside, core := sums(reach(t, p.Mesh, layers(t, 40, 10), carve.Options{Step: 0.25, Hollow: pocket}))
	near(t, "wood", wood, 60*60*40-20*region.Area(), 0.001)
	if outside != 0 || core != 0 {
		t.Errorf("trapped: %g outside, %g in the core", outside, core)
	}
	_, outside, core = sums(reach(t, p.Mesh, layers(t, 40, 40), carve.Options{Step: 0.25, Hollow: pocket}))
	near(t, "core", core, 20*region.Area(), 0.002)
	if outside != 0 {
		t.Errorf("%g mm³ trapped outside", outside)
	}
}
