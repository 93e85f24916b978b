package files

import (
	"context"
	"fmt"
	"strings"

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

// A measured column's heading names its unit: %L a length, %A an area, %V a volume, %G a mass, %K a large mass.
func (b *bench) heads(names ...string) []string {
	units := strings.NewReplacer("%L", "mm", "%A", "cm2", "%V", "cm3", "%G", "g", "%K", "kg")
	if b.Units == unit.Inch {
		units = strings.NewReplacer("%L", "in", "%A", "in2", "%V", "in3", "%G", "oz", "%K", "lb")
	}
	for i, n := range names {
		names[i] = units.Replace(n)
	}
	return names
}

// in is a figure for a list: divided by what its metric unit or that of inches comes to, to so many places.
func (b *bench) in(v, metric, inch float64, places, inchPlaces int) string {
	if b.Units == unit.Inch {
		return figureTo(v/inch, inchPlaces)
	}
	return figureTo(v/metric, places)
}

func (b *bench) length(mm float64) string { return b.in(mm, 1, unit.In.MM(), 2, 4) }
func (b *bench) area(mm2 float64) string  { return b.in(mm2, 100, unit.In.MM()*unit.In.MM(), 1, 2) }
func (b *bench) grams(g float64) string   { return b.in(g, 1, unit.GramsPerPound/16, 1, 2) }
func (b *bench) kilos(g float64) string   { return b.in(g, 1000, unit.GramsPerPound, 2, 2) }

// figureTo is a figure to so many places at the most, without needless zeros.
func figureTo(v float64, places int) string {
	s := fmt.Sprintf("%.*f", places, v)
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func shopping(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"what", "how much", "price", "remark"}}
	for _, p := range buy(b.Workshop, b.Catalogue, b.Units) {
		t.Rows = append(t.Rows, []string{p.what, p.amount, p.cost(), p.remark})
	}
	return csv(t)
}

func cutting(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: b.heads("board", "what", "number", "from x %L", "from y %L", "to x %L", "to y %L", "kind of board", "thickness %L", "off each face %L", "planed %L")}
	kinds := make(map[string]stocked)
	for _, s := range stocks(b.Workshop) {
		kinds[s.board.Board.Name] = s
	}
	for _, s := range SawViews(b.Workshop) {
		kind := kinds[s.Name]
		row := func(what string, n int, from, to geom.Vec2) {
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(s.Number), what, fmt.Sprint(n), b.length(from.X), b.length(from.Y), b.length(to.X), b.length(to.Y), s.Name,
				b.length(kind.thickness), b.length(kind.skim), b.length(kind.planed),
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
	w := b.Workshop
	t := export.Table{Head: b.heads("layer", "part", "panel", "middle x %L", "middle y %L", "turn deg", "length %L", "width %L", "tabs", "weakest tab %A", "held", "board")}
	for _, p := range w.Parts {
		row := []string{fmt.Sprint(p.Layer), fmt.Sprint(p.ID.Part + 1), "none", "", "", ""}
		if n, at, ok := w.Layout.Find(p.ID); ok {
			middle := w.MiddleOf(at)
			row = append(row[:2], fmt.Sprint(n), b.length(middle.X), b.length(middle.Y), fmt.Sprint(at.TurnDeg))
		}
		size := p.Shadow.Box().Size()
		held := "yes"
		if !p.Held {
			held = "badly"
		}
		weakest, _ := p.LeastTab()
		t.Rows = append(t.Rows, append(row, b.length(size.X), b.length(size.Y), fmt.Sprint(len(p.Tabs)), b.in(weakest, 100, unit.In.MM()*unit.In.MM(), 2, 3), held, p.Board))
	}
	return csv(t)
}

// splinterList is what comes off the parts, where it lies on its panel while side A is up.
func splinterList(_ context.Context, b *bench) ([]byte, error) {
	w := b.Workshop
	t := export.Table{Head: b.heads("panel", "layer", "part", "from x %L", "from y %L", "to x %L", "to y %L", "volume %V")}
	for _, p := range w.Parts {
		number, at, ok := w.Layout.Find(p.ID)
		if !ok {
			continue
		}
		for _, s := range p.Splinters {
			on := at.ApplyBox(s.Box)
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(number), fmt.Sprint(p.Layer), fmt.Sprint(p.ID.Part + 1),
				b.length(on.Min.X), b.length(on.Min.Y), b.length(on.Max.X), b.length(on.Max.Y),
				b.in(s.Volume, 1000, unit.In.MM()*unit.In.MM()*unit.In.MM(), 3, 4),
			})
		}
	}
	return csv(t)
}

// pinList is every hole for an alignment pin where it lies on its panel, as the side that it is drilled from is up.
func pinList(_ context.Context, b *bench) ([]byte, error) {
	w := b.Workshop
	t := export.Table{Head: b.heads("panel", "side that is up", "layer", "part", "face of the part", "x %L", "y %L", "diameter %L", "depth from the part's face %L", "dowel goes in %L", "depth from the planed panel's face %L")}
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
						b.length(q.X), b.length(q.Y), b.length(h.Diameter), b.length(h.Depth), b.length(h.Dowel), b.length(h.FromPanel),
					})
				}
			}
		}
	}
	return csv(t)
}

func glueList(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: b.heads("stage", "pressing", "lower layers", "upper layers", "area %A", "glue %G", "force N", "clamps", "lift %K", "makes %K")}
	for _, s := range b.Workshop.Seams { // before the stages: edge to edge, nothing is lifted
		t.Rows = append(t.Rows, []string{
			"0", "", partName(b.Workshop, s.Left), partName(b.Workshop, s.Right),
			b.area(s.Area), b.grams(s.WetG), fmt.Sprintf("%.0f", s.ForceN), fmt.Sprint(s.Clamps), "", "",
		})
	}
	for _, s := range b.Workshop.GlueUp.Stages {
		for _, p := range s.Pressings {
			t.Rows = append(t.Rows, []string{
				fmt.Sprint(s.Number), fmt.Sprint(p.Number), layerRun(p.Lower.First, p.Lower.Last), layerRun(p.Upper.First, p.Upper.Last),
				b.area(p.Joint.Area), b.grams(p.Joint.WetG), fmt.Sprintf("%.0f", p.Joint.ForceN), fmt.Sprint(p.Joint.Clamps),
				b.kilos(p.Upper.MassG), b.kilos(p.Result.MassG),
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
