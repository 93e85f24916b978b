package files

import (
	"context"
	"fmt"
	"strings"

	"grainstack/slicing/export"
	"grainstack/slicing/unit"
)

// listFiles are what to buy, how it is cut, where each part lies and what is glued when.
func listFiles(Work) []File {
	return []File{
		{Lists, "lists/shopping.csv", "what to buy", shopping},
		{Lists, "lists/cutting.csv", "panels and how boards are sawn, cut by cut", cutting},
		{Lists, "lists/parts.csv", "each part with its panel, place and tabs", partList},
		{Lists, "lists/glue-up.csv", "pressings in order", glueList},
	}
}

func shopping(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"what", "how much", "remark"}}
	for _, row := range Buy(b.Workshop, b.Catalogue, b.Units) {
		t.Rows = append(t.Rows, row[:])
	}
	return csv(t)
}

func cutting(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"board", "what", "number", "from x mm", "from y mm", "to x mm", "to y mm", "kind of board"}}
	for _, s := range SawViews(b.Workshop) {
		row := func(what string, n int, x0, y0, x1, y1 float64) {
			t.Rows = append(t.Rows, []string{fmt.Sprint(s.Number), what, fmt.Sprint(n), mm(x0), mm(y0), mm(x1), mm(y1), s.Name})
		}
		for i, c := range s.Cuts {
			row("cut", i+1, c[0].X, c[0].Y, c[1].X, c[1].Y)
		}
		for i, p := range s.Panels {
			row("panel", s.Numbers[i], p.Min.X, p.Min.Y, p.Max.X, p.Max.Y)
		}
		for i, o := range s.Offcuts {
			row("offcut", i+1, o.Min.X, o.Min.Y, o.Max.X, o.Max.Y)
		}
	}
	return csv(t)
}

func mm(v float64) string {
	s := strings.TrimRight(fmt.Sprintf("%.2f", v), "0")
	return strings.TrimSuffix(s, ".")
}

func partList(_ context.Context, b *bench) ([]byte, error) {
	w := b.Workshop
	t := export.Table{Head: []string{"layer", "part", "panel", "middle x mm", "middle y mm", "turn deg", "length mm", "width mm", "tabs", "held", "board"}}
	for _, p := range w.Parts {
		row := []string{fmt.Sprint(p.Layer), fmt.Sprint(p.ID.Part + 1), "none", "", "", ""}
		if n, at, ok := w.Layout.Find(p.ID); ok {
			middle := w.MiddleOf(at)
			row = append(row[:2], fmt.Sprint(n), mm(middle.X), mm(middle.Y), fmt.Sprint(at.TurnDeg))
		}
		size := p.Shadow.Box().Size()
		held := "yes"
		if !p.Held {
			held = "badly"
		}
		t.Rows = append(t.Rows, append(row, mm(size.X), mm(size.Y), fmt.Sprint(len(p.Tabs)), held, p.Board))
	}
	return csv(t)
}

func glueList(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"stage", "pressing", "lower layers", "upper layers", "area cm2", "glue g", "force N", "clamps", "lift kg", "makes kg"}}
	for _, s := range b.Workshop.Seams { // before the stages: edge to edge, nothing is lifted
		t.Rows = append(t.Rows, []string{
			"0", "", partName(b.Workshop, s.Left), partName(b.Workshop, s.Right),
			fmt.Sprintf("%.1f", s.Area/100), fmt.Sprintf("%.1f", s.WetG), fmt.Sprintf("%.0f", s.ForceN), fmt.Sprint(s.Clamps), "", "",
		})
	}
	for _, s := range b.Workshop.GlueUp.Stages {
		for _, p := range s.Pressings {
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(s.Number), fmt.Sprint(p.Number), layerRun(p.Lower.First, p.Lower.Last), layerRun(p.Upper.First, p.Upper.Last),
				fmt.Sprintf("%.1f", p.Joint.Area/100), fmt.Sprintf("%.1f", p.Joint.WetG), fmt.Sprintf("%.0f", p.Joint.ForceN), fmt.Sprint(p.Joint.Clamps),
				fmt.Sprintf("%.2f", p.Upper.MassG/1000), fmt.Sprintf("%.2f", p.Result.MassG/1000),
			})
		}
	}
	return csv(t)
}

func layerRun(a, b int) string {
	if a == b {
		return fmt.Sprint(a)
	}
	return fmt.Sprintf("%d to %d", a, b)
}

// mass is a mass in g in words.
func (b *bench) mass(g float64) string { return unit.Mass(g, b.Units) }
