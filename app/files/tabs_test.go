package files

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// carved is a panel as the cutter meets it on both sides.
type carved struct {
	a, b  export.PanelMap
	over  func(geom.Vec2) geom.Vec2
	thick float64
}

// wood is from where to where a panel has wood at a point of side A; low > high for none.
func (c carved) wood(at geom.Vec2) (low, high float64) {
	height := func(m export.PanelMap, p geom.Vec2) float64 {
		x, y := int(math.Round(p.X/m.StepX)), int(math.Round(p.Y/m.StepY))
		if x < 0 || y < 0 || x >= m.W || y >= m.H {
			return 0
		}
		return float64(m.Z[y*m.W+x]) * m.PerCount
	}
	a, b := height(c.a, at), height(c.b, c.over(at))
	if a == 0 || b == 0 {
		return 1, 0
	}
	return c.thick - b, a
}

// section is the least wood that hangs together along a tab, from behind its root to its end in the frame, mm²: what each
// half millimetre of its way has in common with the next, over the breadth of the tab; the columns at its edges, which may lie
// on either side of them, are taken to be as those beside them.
func (c carved) section(at, way geom.Vec2, wide, root, length float64) float64 {
	const step = 0.5
	across := geom.Vec2{X: -way.Y, Y: way.X}
	least := math.Inf(1)
	for l := -root - 1; l+step <= length; l += step {
		sum := 0.0
		for s := 1.5*step - wide/2; s < wide/2-step; s += step {
			p := at.Add(way.Scale(l)).Add(across.Scale(s))
			low, high := c.wood(p)
			low2, high2 := c.wood(p.Add(way.Scale(step)))
			sum += step * math.Max(0, math.Min(high, high2)-math.Max(low, low2))
		}
		least = math.Min(least, sum*wide/(wide-2*step))
	}
	return least
}

// isles is how much of the panel, mm², has its full thickness outside all parts and does not hang together with the panel's edge
// there.
func (c carved) isles(parts []geom.Region, x, y float64) float64 {
	const step = 1.0
	nx, ny := int(x/step)+1, int(y/step)+1
	waste := make([]bool, nx*ny)
	for i := range waste {
		p := geom.Vec2{X: float64(i%nx) * step, Y: float64(i/nx) * step}
		low, high := c.wood(p)
		waste[i] = high-low > c.thick-0.01
		for _, g := range parts {
			if b := g.Box(); waste[i] && p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y {
				waste[i] = !g.Contains(p)
			}
		}
	}
	var todo []int
	for i, w := range waste {
		if x, y := i%nx, i/nx; w && (x == 0 || y == 0 || x == nx-1 || y == ny-1) {
			waste[i] = false
			todo = append(todo, i)
		}
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, k := range [4]int{i - 1, i + 1, i - nx, i + nx} {
			if k >= 0 && k < len(waste) && waste[k] {
				waste[k] = false
				todo = append(todo, k)
			}
		}
	}
	sum := 0.0
	for _, w := range waste {
		if w {
			sum += step * step
		}
	}
	return sum
}

// TestTabsAreWhole: on the carved panels every tab has the section that is said, from the part to the frame; a part that is said
// to be held has two of full section; and no waste hangs on parts alone. The panels are measured as the cutter meets them.
func TestTabsAreWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("carves all panels of the demo piece")
	}
	w := work(t, job.Demo().Mesh, job.Places{}, nil)
	b, shop := newBench(context.Background(), w), w.Workshop
	tabs, worst := 0, math.Inf(1)
	for i, p := range shop.Layout.Panels {
		m, err := b.panels[i]()
		if err != nil {
			t.Fatal(err)
		}
		c := carved{m.Map(panel.SideA), m.Map(panel.SideB), shop.Register.TurnOver, w.Figures.Thickness}
		var outlines []geom.Region
		for _, at := range p.Placed {
			outlines = append(outlines, shop.Bench.Outline(at))
			part, _ := shop.Part(at.Part)
			whole := 0
			for _, tab := range part.Tabs {
				got := c.section(at.Apply(tab.At), turned(at, tab.Out), tab.Width, tab.Root, tab.Length)
				tabs, worst = tabs+1, math.Min(worst, got/tab.Section)
				if got < 0.9*tab.Section {
					t.Errorf("%v: a tab at %.0f has %.1f mm² somewhere, %.1f is said, %.1f would be whole", p.Number, tab.At, got, tab.Section, tab.Full)
				}
				if got >= 0.9*tab.Full {
					whole++
				}
			}
			if part.Held && whole < 2 {
				t.Errorf("%v is said to be held and has %d whole tabs", part.ID, whole)
			}
		}
		if loose := c.isles(outlines, shop.For.PanelX, shop.For.PanelY); loose > 0 {
			t.Errorf("panel %d: %.0f mm² of waste hang on parts alone", p.Number, loose)
		}
	}
	if tabs < 60 {
		t.Errorf("only %d tabs were looked at", tabs)
	}
	t.Logf("%d tabs; the weakest has %.2f of what is said", tabs, worst)
}
