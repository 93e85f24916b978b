package compass

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
)

func slab(x, y float64) geom.Ring {
	return geom.Ring{{X: -x / 2, Y: -y / 2}, {X: x / 2, Y: -y / 2}, {X: x / 2, Y: y / 2}, {X: -x / 2, Y: y / 2}}
}

func turned(g geom.Ring, angle float64) geom.Ring {
	s, c := math.Sincos(angle)
	out := make(geom.Ring, len(g))
	for i, p := range g {
		out[i] = geom.Vec2{X: p.X*c - p.Y*s, Y: p.X*s + p.Y*c}
	}
	return out
}

// turns are the layers' turns, every second one where alternate.
func turns(hulls [][]geom.Ring, alternate bool) []bool {
	out := make([]bool, len(hulls))
	for i := range out {
		out[i] = alternate && i%2 == 1
	}
	return out
}

// TestShelves: numbers of panels that are counted by hand.
func TestShelves(t *testing.T) {
	b := bay{230, 340, 10} // 220 × 330 to lay on
	layers := func(n int, g ...geom.Ring) (out [][]geom.Ring) {
		for range n {
			out = append(out, g)
		}
		return out
	}
	for _, tt := range []struct {
		name      string
		hulls     [][]geom.Ring
		alternate bool
		want      int
	}{
		{"nothing", nil, false, 0},
		{"six squares fit exactly", layers(6, slab(100, 100)), false, 1},
		{"the seventh doesn't", layers(7, slab(100, 100)), false, 2},
		{"wide ones one below the other", layers(3, slab(200, 100)), false, 1},
		{"every second lies turned", layers(2, slab(200, 150)), true, 2}, // 160 and 210 are more than 330
		{"small ones beside a large one", append(layers(1, slab(200, 200)), layers(2, slab(100, 100))...), false, 1},
		{"two parts a layer", layers(3, slab(100, 100), slab(100, 100)), false, 1},
		{"sawn in two to fit", layers(1, slab(300, 100)), false, 1}, // 150 + 10 each, one above the other
		{"sawn in four", layers(1, slab(300, 500)), false, 4},
	} {
		if got := b.panels(tt.hulls, turns(tt.hulls, tt.alternate)); got != tt.want {
			t.Errorf("%s: %d panels, want %d", tt.name, got, tt.want)
		}
	}
	if got := (bay{10, 10, 10}).panels(layers(1, slab(5, 5)), []bool{false}); got < 1 {
		t.Errorf("a panel that holds nothing: %d panels", got)
	}
}

// TestTurnedForPanels: a bar that lies askew is turned straight, and the way that the panel is longer.
func TestTurnedForPanels(t *testing.T) {
	b := bay{230, 340, 10}
	bars := [][]geom.Ring{{turned(slab(300, 95), 0.35)}, {turned(slab(300, 95), 0.35)}}
	angle, panels := b.fewest(bars, turns(bars, false))
	after := turned(bars[0][0], angle)
	if x, y := width(after, geom.Vec2{X: 1}), width(after, geom.Vec2{Y: 1}); panels != 1 || x > 130 || y < 295 {
		t.Errorf("turned by %.0f degrees: %.0f × %.0f on %d panels", degrees(angle), x, y, panels)
	}
	if angle, _ := b.fewest([][]geom.Ring{{slab(80, 80)}}, []bool{false}); angle != 0 {
		t.Errorf("a square that lies well is turned by %.0f degrees", degrees(angle))
	}
}
