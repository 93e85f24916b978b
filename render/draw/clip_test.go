package draw

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
)

var pane = geom.Box2{Max: geom.Vec2{X: 100, Y: 60}}

func TestClipRegionKeepsWhatIsInside(t *testing.T) {
	for _, move := range []geom.Vec2{{}, {X: 50, Y: 30}, {X: 100}, {X: -90, Y: 75}, {X: 400}} {
		var g geom.Region
		for _, r := range holed() {
			var to geom.Ring
			for _, p := range r {
				to = append(to, p.Add(move))
			}
			g = append(g, to)
		}
		got := clipRegion(g, pane)
		in, n := 0, 0
		for x := 0.5; x < 100; x++ {
			for y := 0.5; y < 60; y++ {
				p := geom.Vec2{X: x, Y: y}
				if g.Contains(p) != got.Contains(p) {
					t.Fatalf("moved by %v: %v changed sides", move, p)
				}
				if n++; g.Contains(p) {
					in++
				}
			}
		}
		if want := 6000 * float64(in) / float64(n); math.Abs(got.Area()-want) > 60 {
			t.Errorf("moved by %v: area %.0f, counted %.0f", move, got.Area(), want)
		}
		if b := got.Box(); !b.Empty() && (b.Min.X < -1e-9 || b.Min.Y < -1e-9 || b.Max.X > 100+1e-9 || b.Max.Y > 60+1e-9) {
			t.Errorf("moved by %v: reaches %v", move, b)
		}
	}
}

func TestClipLines(t *testing.T) {
	ring := []geom.Vec2{{X: 50, Y: 30}, {X: 150, Y: 30}, {X: 150, Y: 50}, {X: 50, Y: 50}}
	for _, tt := range []struct {
		name   string
		line   Line
		pieces int
		length float64
	}{
		{"inside", Line{[]geom.Vec2{{X: 1, Y: 1}, {X: 4, Y: 5}}, false}, 1, 5},
		{"outside", Line{[]geom.Vec2{{X: 1, Y: -1}, {X: 4, Y: -5}}, false}, 0, 0},
		{"right across", Line{[]geom.Vec2{{X: -50, Y: 10}, {X: 150, Y: 10}}, false}, 1, 100},
		{"out and back", Line{ring, false}, 2, 100},
		{"out and back, closed", Line{ring, true}, 2, 120},
		{"a point is no line", Line{[]geom.Vec2{{X: 1, Y: 1}}, false}, 0, 0},
	} {
		got := clipLines([]Line{tt.line}, pane)
		sum := 0.0
		for _, l := range got {
			for i := 1; i < len(l.Points); i++ {
				sum += l.Points[i].Sub(l.Points[i-1]).Len()
			}
		}
		if len(got) != tt.pieces || math.Abs(sum-tt.length) > 1e-9 {
			t.Errorf("%s: %d pieces, %g long; want %d, %g", tt.name, len(got), sum, tt.pieces, tt.length)
		}
	}
}
