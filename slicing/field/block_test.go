package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestMeasureOfBall: in the layer round its middle a ball of hollow stays under the overhangs where it is less high than the layer
// reaches to either side, which by the integral over rings is as much as a ball of the lesser of the two holds; a layer
// that holds the ball whole keeps all of it, one that ends at its middle none. What is cut away is the rest of the ball's
// slice, by the integral of its sections.
func TestMeasureOfBall(t *testing.T) {
	const radius, wall, up = 30.0, 10.0, 30.0
	g := build(t, solidtest.Sphere(radius, 20_000), 120)
	pl := geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1, Shift: geom.Vec{Z: up}}
	l, err := NewLattice(context.Background(), g, pl, g.standBox(pl), wall)
	if err != nil {
		t.Fatal(err)
	}
	const r = radius - wall
	ball := func(r float64) float64 { return 4 * math.Pi / 3 * r * r * r }
	below := func(z float64) (volume, moment float64) { // of the hollow below a height, about its middle
		z = min(max(z-up, -r), r)
		return math.Pi * (r*r*z - z*z*z/3), math.Pi * (r*r*z*z/2 - z*z*z*z/4)
	}
	var b Block
	for _, tt := range []struct{ bottom, top, ball float64 }{
		{0, 60, r}, {8, 52, r}, {0, up, 0}, {up, 60, 0}, {0, up + 6, 6}, {up - 14, up + 12, 12}, {up - 9, 60, 9},
		{40, 50, 0},
	} {
		if !b.Cut(l, tt.bottom, tt.top) {
			t.Fatal("no hollow")
		}
		open, moment, shut := b.Measure()
		near(t, "shut", shut, ball(tt.ball), 0.01*ball(tt.ball)+1)
		v0, m0 := below(tt.bottom)
		v1, m1 := below(tt.top)
		near(t, "cut away", open, v1-v0-ball(tt.ball), 2e-4*ball(radius)+0.01*ball(tt.ball)) // the mesh lies some 0.005 mm within the ball
		want := geom.Vec{Z: m1 - m0 + up*(v1-v0-ball(tt.ball))}                              // what is shut lies evenly about the middle
		if off := moment.Sub(want).Len(); off > 0.1*(v1-v0) {
			t.Errorf("between %v and %v the middle of what is cut away is %.3f mm off", tt.bottom, tt.top, off/(v1-v0))
		}
	}
	if b.Cut(l, 0, 5) {
		t.Error("the ball's shell is hollow")
	}
}

// TestAbove: the share of a tetrahedron above zero is what points spread evenly in it say.
func TestAbove(t *testing.T) {
	const n = 60
	for _, c := range [][4]float64{{1, 1, 1, 1}, {-1, -1, -1, -1}, {3, -1, -2, -0.5}, {-3, 1, 2, 0.5}, {1, 2, -1, -3}, {5, -1, 0.2, -0.1}, {0, 0, 1, -1}} {
		in, all := 0.0, 0.0
		for i := range n {
			for j := range n - i {
				for k := range n - i - j {
					m := n - 1 - i - j - k
					all++
					switch v := c[0]*(float64(i)+0.25) + c[1]*(float64(j)+0.25) + c[2]*(float64(k)+0.25) + c[3]*(float64(m)+0.25); {
					case v == 0:
						in += 0.5
					case v > 0:
						in++
					}
				}
			}
		}
		near(t, "share", above(c[0], c[1], c[2], c[3]), in/all, 0.01)
	}
}
