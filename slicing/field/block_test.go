package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestShutOfBall: in the layer round its middle a ball of hollow stays under the overhangs where it is less high than the layer
// reaches to either side, which by the integral over rings is as much as a ball of the lesser of the two holds; a layer
// that holds the ball whole keeps all of it, one that ends at its middle none.
func TestShutOfBall(t *testing.T) {
	const radius, wall, up = 30.0, 10.0, 30.0
	g := build(t, solidtest.Sphere(radius, 20_000), 120)
	pl := geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1, Shift: geom.Vec{Z: up}}
	l, err := NewLattice(context.Background(), g, pl, g.standBox(pl), wall)
	if err != nil {
		t.Fatal(err)
	}
	ball := func(r float64) float64 { return 4 * math.Pi / 3 * r * r * r }
	var b Block
	for _, tt := range []struct{ bottom, top, ball float64 }{
		{0, 60, radius - wall}, {8, 52, radius - wall}, {0, up, 0}, {up, 60, 0}, {0, up + 6, 6}, {up - 14, up + 12, 12}, {up - 9, 60, 9},
		{40, 50, 0},
	} {
		if !b.Cut(l, tt.bottom, tt.top) {
			t.Fatal("no hollow")
		}
		got, moment := b.Shut()
		near(t, "shut", got, ball(tt.ball), 0.01*ball(tt.ball)+1)
		if tt.ball > 0 { // the middle of the ball, whose rings lie evenly about it
			if off := moment.Scale(1 / got).Sub(geom.Vec{Z: up}).Len(); off > 0.2 {
				t.Errorf("between %v and %v its middle is %.3f mm off", tt.bottom, tt.top, off)
			}
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
