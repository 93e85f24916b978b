package geom

import (
	"math"
	"testing"
)

// TestHolds: widths that follow from the shapes' definitions.
func TestHolds(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) Ring { return Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }
	hole := rect(4, 4, 6, 6)
	hole[1], hole[3] = hole[3], hole[1]
	round := make(Ring, 200)
	for i := range round {
		sin, cos := math.Sincos(float64(i) / 200 * 2 * math.Pi)
		round[i] = Vec2{7 + 3*cos, 3 * sin}
	}
	hair := Ring{{0, 0}, {10, 0}, {10, 4.9}, {60, 4.9}, {60, 5.1}, {10, 5.1}, {10, 10}, {0, 10}}
	for _, c := range []struct {
		name string
		g    Region
		want float64
	}{
		{"square", Region{rect(0, 0, 10, 10)}, 5},
		{"strip", Region{rect(0, 0, 100, 2)}, 1},
		{"right triangle", Region{{{0, 0}, {4, 0}, {0, 3}}}, 1},                                              // (3 + 4 - 5) / 2
		{"square with a square hole", Region{rect(0, 0, 10, 10), hole}, (4 * math.Sqrt2) / (1 + math.Sqrt2)}, // r√2 + r from corner to hole's corner
		{"circle", Region{round}, 3 * math.Cos(math.Pi/200)},
		{"square with a hair", Region{hair}, 5},
		{"nothing", nil, 0},
		{"a line", Region{{{0, 0}, {5, 0}, {2, 0}}}, 0},
	} {
		if c.want > 0 && !c.g.Holds(0.98*c.want) || c.g.Holds(max(1.02*c.want, 1e-3)) {
			t.Errorf("%s: not so that a circle of %.4f just fits", c.name, c.want)
		}
	}
}
