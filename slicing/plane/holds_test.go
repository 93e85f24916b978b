package plane

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
)

// TestHolds: widths that follow from the shapes' definitions.
func TestHolds(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) geom.Ring {
		return geom.Ring{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	hole := rect(4, 4, 6, 6)
	hole[1], hole[3] = hole[3], hole[1]
	round := make(geom.Ring, 200)
	for i := range round {
		sin, cos := math.Sincos(float64(i) / 200 * 2 * math.Pi)
		round[i] = geom.Vec2{X: 7 + 3*cos, Y: 3 * sin}
	}
	hair := geom.Ring{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4.9}, {X: 60, Y: 4.9}, {X: 60, Y: 5.1}, {X: 10, Y: 5.1}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	for _, c := range []struct {
		name string
		g    geom.Region
		want float64
	}{
		{"square", geom.Region{rect(0, 0, 10, 10)}, 5},
		{"strip", geom.Region{rect(0, 0, 100, 2)}, 1},
		{"right triangle", geom.Region{{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 0, Y: 3}}}, 1},                            // (3 + 4 - 5) / 2
		{"square with a square hole", geom.Region{rect(0, 0, 10, 10), hole}, (4 * math.Sqrt2) / (1 + math.Sqrt2)}, // r√2 + r from corner to hole's corner
		{"circle", geom.Region{round}, 3 * math.Cos(math.Pi/200)},
		{"square with a hair", geom.Region{hair}, 5},
		{"nothing", nil, 0},
		{"a line", geom.Region{{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 2, Y: 0}}}, 0},
	} {
		if c.want > 0 && !Holds(c.g, 0.98*c.want) || Holds(c.g, max(1.02*c.want, 1e-3)) {
			t.Errorf("%s: not so that a circle of %.4f just fits", c.name, c.want)
		}
	}
}
