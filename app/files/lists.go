package files

import (
	"context"
	"fmt"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// listFiles are what to buy, how it is cut, where each part lies, where it is drilled and what is glued when.
func listFiles(w Work) []File {
	out := []File{
		{Kind: Lists, Name: "lists/shopping.csv", Does: "what to buy", make: shopping},
		{Kind: Lists, Name: "lists/cutting.csv", Does: "panels and how boards are sawn, cut by cut", make: cutting},
		{Kind: Lists, Name: "lists/parts.csv", Does: "each part with its panel, place and tabs", make: partList},
		{Kind: Lists, Name: "lists/pins.csv", Does: "each hole for an alignment pin: face, place, diameter, depth", make: pinList},
		{Kind: Lists, Name: "lists/glue-up.csv", Does: "pressings in order", make: glueList},
	}
	if w.Workshop.Splinters() > 0 {
		out = append(out, File{Kind: Lists, Name: "lists/splinters.csv", Does: "wood that comes off thin places while it is carved: part, place, size", make: splinterList})
	}
	return out
}

func shopping(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"what", "how much", "price", "remark"}}
	for _, p := range buy(b.Workshop, b.Catalogue, b.Units) {
		t.Rows = append(t.Rows, []string{p.what, p.amount, p.cost(), p.remark})
	}
	return csv(t)
}

func cutting(_ context.Context, b *bench) ([]byte, error) {
	u := listUnits(b.Units)
	t := export.Table{Head: u.heads("board", "what", "number", "from x %L", "from y %L", "to x %L", "to y %L", "kind of board", "thickness %L", "off each face %L", "planed %L")}
	kinds := make(map[string]stocked)
	for _, s := range stocks(b.Workshop) {
		kinds[s.board.Board.Name] = s
	}
	for _, s := range SawViews(b.Workshop) {
		kind := kinds[s.Name]
		row := func(what string, n int, from, to geom.Vec2) {
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(s.Number), what, fmt.Sprint(n), u.length(from.X), u.length(from.Y), u.length(to.X), u.length(to.Y), s.Name,
				u.length(kind.thickness), u.length(kind.skim), u.length(kind.planed),
			})
		}
		for i, c := range s.Cuts {
			row("cut", i+1, c[0], c[1])
		}
		for i, p := range s.Panels {
			row("panel", s.Numbers[i], p.Min, p.Max)
		}
		for i, o := range s.Offcuts {
			row("offcut", i+1, o.Min, o.Max)
		}
	}
	return csv(t)
}

func partList(_ context.Context, b *bench) ([]byte, error) {
	u := listUnits(b.Units)
	w := b.Workshop
	t := export.Table{Head: u.heads("layer", "part", "panel", "middle x %L", "middle y %L", "turn deg", "length %L", "width %L", "tabs", "weakest tab %A", "held", "board")}
	for _, p := range w.Parts {
		row := []string{fmt.Sprint(p.Layer), fmt.Sprint(p.ID.Part + 1), "none", "", "", ""}
		if n, at, ok := w.Layout.Find(p.ID); ok {
			middle := w.MiddleOf(at)
			row = append(row[:2], fmt.Sprint(n), u.length(middle.X), u.length(middle.Y), fmt.Sprint(at.TurnDeg))
		}
		size := p.Shadow.Box().Size()
		held := "yes"
		if !p.Held {
			held = "badly"
		}
		weakest, _ := p.LeastTab()
		t.Rows = append(t.Rows, append(row, u.length(size.X), u.length(size.Y), fmt.Sprint(len(p.Tabs)), u.in(weakest, 100, unit.In.MM()*unit.In.MM(), 2, 3), held, p.Board))
	}
	return csv(t)
}

// splinterList is what comes off the parts, where it lies on its panel while side A is up.
func splinterList(_ context.Context, b *bench) ([]byte, error) {
	u := listUnits(b.Units)
	w := b.Workshop
	t := export.Table{Head: u.heads("panel", "layer", "part", "from x %L", "from y %L", "to x %L", "to y %L", "volume %V")}
	for _, p := range w.Parts {
		number, at, ok := w.Layout.Find(p.ID)
		if !ok {
			continue
		}
		for _, s := range p.Splinters {
			on := at.ApplyBox(s.Box)
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(number), fmt.Sprint(p.Layer), fmt.Sprint(p.ID.Part + 1),
				u.length(on.Min.X), u.length(on.Min.Y), u.length(on.Max.X), u.length(on.Max.Y),
				u.in(s.Volume, 1000, unit.In.MM()*unit.In.MM()*unit.In.MM(), 3, 4),
			})
		}
	}
	return csv(t)
}

// pinList is every hole for an alignment pin where it lies on its panel, as the side that it is drilled from is up.
func pinList(_ context.Context, b *bench) ([]byte, error) {
	u := listUnits(b.Units)
	w := b.Workshop
	t := export.Table{Head: u.heads("panel", "side that is up", "layer", "part", "face of the part", "x %L", "y %L", "diameter %L", "depth from the part's face %L", "dowel goes in %L", "depth from the planed panel's face %L")}
	for _, p := range w.Layout.Panels {
		for _, lower := range []bool{false, true} {
			side, face := "A", "upper"
			if lower {
				side, face = "B", "lower"
			}
			for _, at := range p.Placed {
				part, ok := w.Part(at.Part)
				if !ok {
					continue
				}
				for _, h := range w.PinHoles(part) {
					if h.Lower != lower {
						continue
					}
					q := at.Apply(h.At)
					if lower {
						q = w.Register.TurnOver(q)
					}
					t.Rows = append(t.Rows, []string{
						fmt.Sprint(p.Number), side, fmt.Sprint(part.Layer), fmt.Sprint(part.ID.Part + 1), face,
						u.length(q.X), u.length(q.Y), u.length(h.Diameter), u.length(h.Depth), u.length(h.Dowel), u.length(h.FromPanel),
					})
				}
			}
		}
	}
	return csv(t)
}

func glueList(_ context.Context, b *bench) ([]byte, error) {
	u := listUnits(b.Units)
	t := export.Table{Head: u.heads("stage", "pressing", "lower layers", "upper layers", "area %A", "glue %G", "force N", "clamps", "lift %K", "makes %K")}
	for _, s := range b.Workshop.Seams { // before the stages: edge to edge, nothing is lifted
		t.Rows = append(t.Rows, []string{
			"0", "", partName(b.Workshop, s.Left), partName(b.Workshop, s.Right),
			u.area(s.Area), u.grams(s.WetG), fmt.Sprintf("%.0f", s.ForceN), fmt.Sprint(s.Clamps), "", "",
		})
	}
	for _, s := range b.Workshop.GlueUp.Stages {
		for _, p := range s.Pressings {
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(s.Number), fmt.Sprint(p.Number), layerRun(p.Lower.First, p.Lower.Last), layerRun(p.Upper.First, p.Upper.Last),
				u.area(p.Joint.Area), u.grams(p.Joint.WetG), fmt.Sprintf("%.0f", p.Joint.ForceN), fmt.Sprint(p.Joint.Clamps),
				u.kilos(p.Upper.MassG), u.kilos(p.Result.MassG),
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
