package field

import (
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestOpenness: a ball and a block's faces are open all over; between two plates the sky is hidden.
func TestOpenness(t *testing.T) {
	ball := solidtest.Sphere(50, 20_000)
	g := build(t, ball, 80)
	for i, o := range g.Openness(ball.Points, nil) {
		if o < 245 {
			t.Fatalf("the ball at %v is open %d of 255", ball.Points[i], o)
		}
	}
	plate := solidtest.Box(100, 100, 10)
	gap := build(t, solidtest.Join(plate, solidtest.Moved(plate, geom.Vec{Z: 14})), 50)
	points := []mesh.Point{{50, 50, 10}, {50, 50, 24}, {50, 50, 0}, {50, 50, 24}}
	normals := []mesh.Point{{0, 0, 1}, {0, 0, 1}, {0, 0, -1}, {}}
	got := gap.Openness(points, normals)
	if got[0] > 100 {
		t.Errorf("between the plates: open %d", got[0])
	}
	if got[1] < 250 || got[2] < 250 || got[3] != 255 {
		t.Errorf("on the outer faces: open %d and %d, without a normal %d", got[1], got[2], got[3])
	}
}
