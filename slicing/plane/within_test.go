package plane_test

import (
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// TestWithin: the place lies in the wood of a horseshoe, of a ring and of two parts, where the middle of the box does not.
func TestWithin(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) geom.Ring {
		return geom.Ring{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	hole := box(-8, -8, 8, 8)
	for i, k := 0, len(hole)-1; i < k; i, k = i+1, k-1 {
		hole[i], hole[k] = hole[k], hole[i]
	}
	shoe := geom.Ring{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: 6, Y: 10}, {X: 6, Y: -8}, {X: -8, Y: -8}, {X: -8, Y: 10}, {X: -10, Y: 10}}
	for name, tt := range map[string]struct {
		region geom.Region
		want   geom.Vec2
	}{
		"box":       {geom.Region{box(0, 0, 4, 2)}, geom.Vec2{X: 2, Y: 1}},
		"horseshoe": {geom.Region{shoe}, geom.Vec2{X: 8}},
		"ring":      {geom.Region{box(-10, -10, 10, 10), hole}, geom.Vec2{X: -9}},
		"two":       {geom.Region{box(-9, -1, -5, 1), box(3, -1, 9, 1)}, geom.Vec2{X: 6}},
	} {
		if got, ok := plane.Within(tt.region); !ok || got.Sub(tt.want).Len() > 1e-9 || !tt.region.Contains(got) {
			t.Errorf("%s: %v, %v, want %v", name, got, ok, tt.want)
		}
	}
	if _, ok := plane.Within(geom.Region{{{X: 1}, {X: 2}}}); ok {
		t.Error("a line has an inside")
	}
}
