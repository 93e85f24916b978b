package picture

import (
	"fmt"
	"image/color"

	"grainstack/render/sheet"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// Layer is what a layer sheet shows. made is what the workshop makes the layer in, nil where that is not known: then the solid's bodies
// are what is numbered. ghost adds the outline of the layer below.
func Layer(p *job.LayerPlan, f *job.Figures, made *workshop.LayerParts, ghost bool) sheet.LayerView {
	v := sheet.LayerView{
		Number: p.Number, Count: len(f.Layers), Bottom: p.Bottom, Top: p.Top, Turned: p.Turned,
		Widest: p.Widest, BottomOutline: p.Lower, TopOutline: p.Upper, Core: p.CoreWidest,
	}
	if ghost {
		v.Below = p.Beneath
	}
	if made != nil {
		v.Parts = made.Parts
	} else {
		for _, part := range p.Parts {
			lo, hi := part.Box.Min, part.Box.Max
			v.Parts = append(v.Parts, geom.Box2{Min: geom.Vec2{X: lo.X, Y: lo.Y}, Max: geom.Vec2{X: hi.X, Y: hi.Y}})
		}
	}
	for _, one := range f.Cautions {
		for _, at := range one.Places {
			if at.Placed && at.In(p.Number) {
				v.Marks = append(v.Marks, geom.Vec2{X: at.At.X, Y: at.At.Y})
			}
		}
	}
	v.Marks = append(v.Marks, crossed(f, p.Number)...)
	return v
}

// Caption is the line above a layer sheet.
func Caption(l job.Layer, count int, u unit.System) string {
	line := fmt.Sprintf("Layer %d of %d · %s", l.Number, count, unit.Between(l.Bottom, l.Top, u))
	if l.Turned {
		line += " · turned 90°"
	}
	if l.Capped {
		line += " · solid"
	}
	return line
}

// own says what a layer is of where not all are of one board.
func own(l job.Layer, s job.Settings) string {
	if l.Board.Key == s.Board {
		return ""
	}
	return l.Board.Name
}

// Facts are the lines below a layer sheet. made is what the workshop makes the layer in, nil where that is not known.
func Facts(p *job.LayerPlan, f *job.Figures, made *workshop.LayerParts, c *stock.Catalogue, u unit.System) []string {
	size := p.Widest.Box().Union(p.Lower.Box()).Union(p.Upper.Box()).Size()
	one := "size " + unit.Length(size.X, u) + " × " + unit.Length(size.Y, u)
	if p.Rim > 0 {
		one += " · rim " + unit.Length(p.Rim, u) + " at the narrowest"
	}
	if !f.Withheld.None() {
		if p.Open > 0 {
			one += " · " + phrase.Count(p.Open, "outline") + phrase.Plural(p.Open, " breaks off", " break off")
		}
		return []string{one, "Its weight and joints need a solid."}
	}
	lines := []string{one, jointLine(p, f, u)}
	if name := own(p.Layer, f.For); name != "" {
		lines = append(lines, name+" · "+unit.Length(p.Skim, u)+" planed off each face")
	}
	three := ""
	n, pieces := len(p.Parts), 0
	if made != nil {
		n, pieces = len(made.Parts), made.Pieces
	}
	if n > 0 {
		three = fmt.Sprintf("%d %s", n, phrase.Plural(n, "part", "parts"))
		if pieces > n {
			three += fmt.Sprintf(" in %d pieces", pieces)
		}
		three += " · "
	}
	three += unit.Mass(p.WoodKg()*1000, u)
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
	switch g := grainAt(p, f); g {
	case stack.Alternates, stack.Doubles:
		line += " · grain " + g.String()
	}
	return line
}

// grainAt is how the grain meets at the joint below a layer, or above the first.
func grainAt(p *job.LayerPlan, f *job.Figures) stack.Grain {
	i := max(p.Number-1, 1)
	if i >= len(f.Layers) {
		return stack.NoGrain
	}
	return f.Layers[i].Grain
}

// Stick is what the story stick shows.
func Stick(st *job.Standing, f *job.Figures, c *stock.Catalogue, picked int) sheet.StickView {
	v := sheet.StickView{Picked: picked}
	marks, radius := map[int]int{}, map[int]float64{}
	for _, one := range f.Cautions {
		for _, at := range one.Places {
			marks[at.Layer]++
			radius[at.Layer] = max(radius[at.Layer], MarkRadius(one.Kind.Class()))
		}
	}
	for _, l := range f.Layers {
		one := sheet.StickLayer{Number: l.Number, Bottom: l.Bottom, Top: l.Top,
			PanelBottom: l.PanelBottom, PanelTop: l.PanelBottom + f.Thickness, Turned: l.Turned, Marks: marks[l.Number], MarkRadius: radius[l.Number]}
		if l.Board.Key != f.For.Board {
			one.Veneers = stickVeneers(f.For, l.Blank, c)
		}
		v.Layers = append(v.Layers, one)
	}
	v.Veneers = stickVeneers(f.For, f.For.Blanks(c).Usual(), c)
	v.Outline, v.Kept = st.Silhouette(), kept(f)
	return v
}

// stickVeneers are a panel's veneers in their tones.
func stickVeneers(s job.Settings, b job.Blank, c *stock.Catalogue) (out []sheet.Veneer) {
	for _, one := range b.Veneers {
		long, end, _ := s.ToneOf(one, c)
		out = append(out, sheet.Veneer{Thickness: one.Thickness, Along: one.Grain == stock.Along, Long: byLab(long), End: byLab(end)})
	}
	return out
}

func byLab(l stock.Lab) color.RGBA {
	b := tone.Lab(l).Light().Bytes()
	return color.RGBA{b[0], b[1], b[2], 255}
}
