package field

import (
	"math"
	"math/rand"
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

// TestMarch holds rays in the hollow of a ball against where a line leaves a sphere.
func TestMarch(t *testing.T) {
	g := build(t, solidtest.Sphere(50, 50_000), 100)
	rnd := rand.New(rand.NewSource(6))
	dir := func() geom.Vec {
		return geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
	}
	for range 300 {
		o, d, wall := dir().Scale(35*rnd.Float64()), dir(), 2+10*rnd.Float64()
		r := 50 - wall
		b := o.Dot(d)
		want := -b + math.Sqrt(b*b-o.Dot(o)+r*r)
		way, n, ok := g.March(o, d, wall, 200)
		if !ok {
			t.Fatalf("from %v along %v nothing is met", o, d)
		}
		hit := o.Add(d.Scale(way))
		near(t, "way", way, want, 0.1*g.step/math.Abs(hit.Unit().Dot(d)))
		near(t, "normal against the radius", n.Unit().Dot(hit.Unit()), -1, 0.001)
	}
	if way, _, ok := g.March(geom.Vec{X: 48}, geom.Vec{X: -1}, 5, 100); !ok || way != 0 {
		t.Error("a start in the wall is not met at once")
	}
	if _, _, ok := g.March(geom.Vec{}, geom.Vec{X: 1}, 5, 20); ok {
		t.Error("a skin 45 away is met within 20")
	}
	if _, _, ok := g.March(geom.Vec{}, geom.Vec{}, 5, math.Inf(1)); ok {
		t.Error("a ray that goes nowhere meets a skin")
	}
}
