package picture

import (
	"fmt"
	"image/color"
	"strings"

	"grainstack/render/sheet"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Layer is what a layer sheet shows. ghost adds the outline of the layer below.
func Layer(p *job.LayerPlan, f *job.Figures, ghost bool) sheet.LayerView {
	v := sheet.LayerView{
		Number: p.Number, Count: len(f.Layers), Bottom: p.Bottom, Top: p.Top, Turned: p.Turned,
		Widest: p.Widest, BottomOutline: p.Lower, TopOutline: p.Upper, Core: p.CoreWidest,
	}
	if ghost {
		v.Below = p.Beneath
	}
	for _, part := range p.Parts {
		lo, hi := part.Box.Min, part.Box.Max
		v.Parts = append(v.Parts, geom.Box2{Min: geom.Vec2{X: lo.X, Y: lo.Y}, Max: geom.Vec2{X: hi.X, Y: hi.Y}})
	}
	for _, c := range f.Cautions {
		if c.Placed && c.Layer == p.Number {
			v.Marks = append(v.Marks, geom.Vec2{X: c.At.X, Y: c.At.Y})
		}
	}
	return v
}

// Caption is the line above a layer sheet.
func Caption(l job.Layer, count int, u unit.System) string {
	from, _, _ := strings.Cut(unit.Length(l.Bottom, u), " ")
	line := fmt.Sprintf("Layer %d of %d · %s to %s", l.Number, count, from, unit.Length(l.Top, u))
	if l.Turned {
		line += " · turned 90°"
	}
	if l.Capped {
		line += " · solid"
	}
	return line
}

// Facts are the lines below a layer sheet.
func Facts(p *job.LayerPlan, f *job.Figures, c *stock.Catalogue, u unit.System) []string {
	size := p.Widest.Box().Union(p.Lower.Box()).Union(p.Upper.Box()).Size()
	one := "size " + unit.Length(size.X, u) + " × " + unit.Length(size.Y, u)
	if p.Rim > 0 {
		one += " · rim " + unit.Length(p.Rim, u) + " at the narrowest"
	}
	if f.Withheld != "" {
		if p.Open > 0 {
			one += fmt.Sprintf(" · %d outlines break off", p.Open)
		}
		return []string{one, "Its weight and joints need a solid."}
	}
	lines := []string{one, jointLine(p, f, u)}
	b, _ := f.For.BoardIn(c)
	three := ""
	if n := len(p.Parts); n > 0 {
		three = fmt.Sprintf("%d parts · ", n)
		if n == 1 {
			three = "1 part · "
		}
	}
	three += unit.Mass(p.Wood*b.Density*1e-6, u)
	if p.Core > 0 {
		three += " · core " + unit.Volume(p.Core, u)
	}
	how := ", estimate"
	if f.Simulated {
		how = " along the cutters' paths"
	}
	return append(lines, three+" · "+unit.Duration(p.Minutes.Rough()+p.Minutes.Fine())+how)
}

// jointLine says what the layer is glued to.
func jointLine(p *job.LayerPlan, f *job.Figures, u unit.System) string {
	line := ""
	if p.Number > 1 {
		line = "joint below " + unit.Area(p.Joint, u)
	} else {
		line = "stands on the floor"
	}
	if p.Number < len(f.Layers) {
		line += " · above " + unit.Area(f.Layers[p.Number].Joint, u)
	}
	switch g := grainOf(f); g {
	case stack.Alternates, stack.Doubles:
		line += " · grain " + g.String()
	}
	return line
}

func grainOf(f *job.Figures) stack.Grain {
	if len(f.Layers) < 2 {
		return stack.NoGrain
	}
	return f.Layers[1].Grain
}

// Stick is what the story stick shows.
func Stick(st *job.Standing, f *job.Figures, c *stock.Catalogue, picked int) sheet.StickView {
	v := sheet.StickView{Picked: picked}
	marks := map[int]int{}
	for _, one := range f.Cautions {
		marks[one.Layer]++
	}
	for _, l := range f.Layers {
		v.Layers = append(v.Layers, sheet.StickLayer{Number: l.Number, Bottom: l.Bottom, Top: l.Top,
			PanelBottom: l.PanelBottom, PanelTop: l.PanelBottom + f.Thickness, Turned: l.Turned, Marks: marks[l.Number]})
	}
	for _, one := range f.For.Veneers(c) {
		s, _ := c.Wood(one.Species)
		v.Veneers = append(v.Veneers, sheet.Veneer{Thickness: one.Thickness, Along: one.Grain == stock.Along, Long: byLab(s.Long), End: byLab(s.End)})
	}
	v.Outline = st.Silhouette
	return v
}

func byLab(l stock.Lab) color.RGBA {
	b := tone.Lab(l).Light().Bytes()
	return color.RGBA{b[0], b[1], b[2], 255}
}
