package hours_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
)

// TestTabsLiftCutters: over a tab beside an upright wall the tips stand on the tab, on side A on its upper and on side B on its
// lower face, with what each leaves; a ball comes down its side as its own rounding does. Further off nothing changes.
func TestTabsLiftCutters(t *testing.T) {
	_, s := first(t)
	tab := hours.Tab{At: geom.Vec2{X: 40}, Way: geom.Vec2{X: 1}, Root: 2, Length: 20, Width: 8, Bottom: 4, Top: 9}
	upBare, downBare := block(t, 80, 60, 0, 0.5, s, hours.Seat{Skim: skim})
	up, down := block(t, 80, 60, 0, 0.5, s, hours.Seat{Skim: skim, Tabs: []hours.Tab{tab}})
	r := s.Finish.Diameter / 2
	for _, c := range []struct {
		name       string
		with, bare *hours.Ground
		top        float64
	}{{"side A", up, upBare, 9}, {"side B", down, downBare, thick - 4}} {
		for _, p := range []struct {
			y             float64
			rough, finish float64
		}{{0, c.top + s.Leave, c.top}, {3, c.top + s.Leave, c.top}, {4 + r/2, c.top + s.Leave, c.top - r + r*math.Sqrt(0.75)}} {
			i := int(math.Round((44 - c.with.Origin.X) / c.with.Step))
			j := int(math.Round((p.y - c.with.Origin.Y) / c.with.Step))
			off := math.Abs(c.with.Origin.Y + float64(j)*c.with.Step - p.y)
			k := j*c.with.W + i
			if got := float64(c.with.Rough[k]); math.Abs(got-p.rough) > 0.01 {
				t.Errorf("%s, %.2f mm beside the tab's middle: the end mill's tip is at %.3f mm, want %.3f", c.name, p.y, got, p.rough)
			}
			if got := float64(c.with.Finish[k]); math.Abs(got-p.finish) > 0.01+off {
				t.Errorf("%s, %.2f mm beside the tab's middle: the ball's tip is at %.3f mm, want %.3f", c.name, p.y, got, p.finish)
			}
		}
		changed := 0
		for k := range c.with.Rough {
			x, y := c.with.Origin.X+float64(k%c.with.W)*c.with.Step, c.with.Origin.Y+float64(k/c.with.W)*c.with.Step
			if c.with.Rough[k] == c.bare.Rough[k] && c.with.Finish[k] == c.bare.Finish[k] {
				continue
			}
			if changed++; x < 38-s.Margin() || math.Abs(y) > 4+s.Margin() {
				t.Fatalf("%s: a tab changes what lies at %.1f, %.1f", c.name, x, y)
			}
		}
		if changed == 0 {
			t.Errorf("%s: a tab changes nothing", c.name)
		}
	}
	if up.Depth() != upBare.Depth() {
		t.Errorf("a tab changes the depth: %.2f, %.2f mm", up.Depth(), upBare.Depth())
	}
}
