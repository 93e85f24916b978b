package plane

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
)

// TestInsideIsContains: of thousands of points, corners and places level with corners among them, an Inside says what the region's
// own rings say one by one.
func TestInsideIsContains(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	regions := map[string]geom.Region{
		"nothing": nil, "a line": {{{X: 0, Y: 1}, {X: 4, Y: 1}}}, "a point": {{{X: 2, Y: 2}}}, "triangle": {{{}, {X: 30}, {X: 4, Y: 50}}},
		"star": {star(rnd, geom.Vec2{}, 20, 60, 3000)},
		"ring": {star(rnd, geom.Vec2{}, 50, 55, 400), reversed(star(rnd, geom.Vec2{X: 5}, 20, 30, 90)), star(rnd, geom.Vec2{X: 90}, 3, 9, 12)},
		"comb": {comb(200)},
	}
	for name, g := range regions {
		in, found := NewInside(g), 0
		ask := func(p geom.Vec2) {
			want := g.Contains(p)
			if want {
				found++
			}
			if got := in.Contains(p); got != want {
				t.Fatalf("%s: %v inside: %v, want %v", name, p, got, want)
			}
		}
		for range 4000 {
			ask(geom.Vec2{X: 140*rnd.Float64() - 70, Y: 140*rnd.Float64() - 70})
		}
		for _, r := range g {
			for _, p := range r {
				ask(p)
				ask(geom.Vec2{X: p.X - 1, Y: p.Y})
				ask(geom.Vec2{X: p.X + 1e-9, Y: math.Nextafter(p.Y, 0)})
			}
		}
		ask(geom.Vec2{X: math.NaN(), Y: 3})
		ask(geom.Vec2{X: 1, Y: math.NaN()})
		ask(geom.Vec2{X: 1, Y: math.Inf(1)})
		if len(g) > 0 && len(g[0]) > 2 && found == 0 {
			t.Errorf("%s: no point is inside", name)
		}
	}
}

// comb has long teeth, whose sides are as high as all of it.
func comb(teeth int) (r geom.Ring) {
	for i := range teeth {
		x := float64(i) / 4
		r = append(r, geom.Vec2{X: x + 0.1, Y: 50}, geom.Vec2{X: x, Y: -50})
	}
	return append(r, geom.Vec2{X: float64(teeth) / 4, Y: 60}, geom.Vec2{Y: 60})
}
