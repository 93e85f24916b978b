package compass

import (
	"context"
	"math"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
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

// layers are n layers with the same parts, every second one turned where alternate.
func layers(n int, alternate bool, g ...geom.Ring) (out []panel.Part) {
	for i := range n {
		for k, r := range g {
			out = append(out, panel.Part{ID: panel.ID{Layer: i + 1, Part: k}, Shadow: geom.Region{r}, Turned: alternate && i%2 == 1})
		}
	}
	return out
}

// small is a panel of 230 × 340 mm with 210 × 320 to lay on.
func small() bay { return bay{panel.Rules{PanelX: 230, PanelY: 340, Margin: 10, Edge: 10}} }

// TestShelves: numbers of panels that are counted by hand.
func TestShelves(t *testing.T) {
	for _, tt := range []struct {
		name  string
		parts []panel.Part
		want  int
	}{
		{"nothing", nil, 0},
		{"six squares fit exactly", layers(6, false, slab(100, 100)), 1},
		{"the seventh doesn't", layers(7, false, slab(100, 100)), 2},
		{"wide ones one below the other", layers(3, false, slab(200, 100)), 1},
		{"every second lies turned", layers(2, true, slab(200, 150)), 2}, // 160 and 210 are more than 330
		{"small ones beside a large one", slices.Concat(layers(1, false, slab(200, 200)), layers(2, false, slab(100, 100))), 1},
		{"two parts a layer", layers(3, false, slab(100, 100), slab(100, 100)), 1},
		{"sawn in two to fit", layers(1, false, slab(300, 100)), 1}, // 150 + 10 each, one above the other
		{"sawn in four", layers(1, false, slab(300, 500)), 4},
	} {
		hulls := make([]geom.Ring, len(tt.parts))
		for i, p := range tt.parts {
			hulls[i] = plane.Hull(p.Shadow[0])
		}
		if got := small().shelve(small().boxes(hulls, tt.parts, 0)); got != tt.want {
			t.Errorf("%s: %d panels, want %d", tt.name, got, tt.want)
		}
		if got, err := small().nest(context.Background(), tt.parts, 0); err != nil || got > tt.want {
			t.Errorf("%s: %d panels nested, %d in rows, %v", tt.name, got, tt.want, err)
		}
	}
	if got := (bay{panel.Rules{PanelX: 10, PanelY: 10, Margin: 10, Edge: 10}}).shelve([]boxed{{15, 15}}); got < 1 {
		t.Errorf("a panel that holds nothing: %d panels", got)
	}
}

// TestNestedNotInBoxes: two right triangles of 200 × 300 mm lie on one panel of 300 × 340 with the long sides beside each other,
// though the box of each takes a panel for itself.
func TestNestedNotInBoxes(t *testing.T) {
	b := bay{panel.Rules{PanelX: 300, PanelY: 340, Margin: 10, Edge: 10}}
	wedge := geom.Ring{{}, {X: 200}, {Y: 300}}
	parts := layers(2, false, wedge)
	got, err := b.nest(context.Background(), parts, 0)
	if rows := b.shelve(b.boxes([]geom.Ring{wedge, wedge}, parts, 0)); err != nil || got != 1 || rows != 2 {
		t.Errorf("%d panels, in rows %d, %v: want 1 and 2", got, rows, err)
	}
}

// TestTurnedForPanels: a bar that lies askew is turned straight, and the way that the panel is longer.
func TestTurnedForPanels(t *testing.T) {
	bars := layers(2, false, turned(slab(300, 95), 0.35))
	angle, _ := small().straightest(bars, turnSteps)
	after := turned(bars[0].Shadow[0], angle)
	panels, err := small().nest(context.Background(), bars, angle)
	if x, y := width(after, geom.Vec2{X: 1}), width(after, geom.Vec2{Y: 1}); err != nil || panels != 1 || x > 130 || y < 295 {
		t.Errorf("turned by %.0f degrees: %.0f × %.0f on %d panels, %v", degrees(angle), x, y, panels, err)
	}
	if angle, _ := small().straightest(layers(1, false, slab(80, 80)), turnSteps); angle != 0 {
		t.Errorf("a square that lies well is turned by %.0f degrees", degrees(angle))
	}
}
