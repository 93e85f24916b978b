package sheet

import (
	"fmt"
	"slices"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// brackets draws a bracket for every pressing, each stage further to the right, from the middle of what is below its joint
// to the middle of what is above, with its number in a disc and its figures beside it where there is room. A disc that
// would hide another is left out.
func (g GlueUpSheet) brackets(v GlueUpView, s Style, c glueColumns) {
	ends := make(map[int]geom.Vec2, len(v.Layers)) // first layer of a group -> where its line ends
	for i, l := range v.Layers {
		row := g.Rows[i]
		ends[l.Number] = vec(row.Max.X+4, (row.Min.Y+row.Max.Y)/2)
	}
	var taken []geom.Box2
	for k := range v.stages() {
		words := fmt.Sprintf("stage %d", k+1)
		if s.Letters.Width(words, s.small(), false) < c.pitch-8 {
			g.Text(draw.Text{At: vec(c.first+c.pitch*float64(k), g.Rows[len(g.Rows)-1].Min.Y-0.8*s.small()), Words: words, Size: s.small(), Color: s.Ink.Faint})
		}
	}
	for _, p := range v.Pressings {
		low, ok := ends[p.From]
		high, ok2 := ends[p.Upper]
		if !ok || !ok2 {
			continue
		}
		x := c.first + c.pitch*float64(p.Stage-1)
		pen := draw.Pen{Color: s.Ink.Ink, Width: 1}
		switch {
		case v.Picked > 0 && p.Number > v.Picked:
			pen.Color, pen.Width = s.Ink.Rule, 0.8
		case p.Number == v.Picked:
			pen.Width = 2.2
		}
		g.Segments(pen, draw.Segment{low, vec(x, low.Y)}, draw.Segment{vec(x, low.Y), vec(x, high.Y)}, draw.Segment{high, vec(x, high.Y)})
		mid := vec(x, (low.Y+high.Y)/2)
		delete(ends, p.Upper)
		ends[p.From] = mid
		r := g.discRadius(s, p)
		around := box(mid.X-r, mid.Y-r, mid.X+r, mid.Y+r)
		if !slices.ContainsFunc(taken, func(o geom.Box2) bool { return overlap(o, around) }) {
			g.disc(s, p, mid, c.pitch, low.Y-high.Y)
			taken = append(taken, around)
			ends[p.From] = vec(mid.X+r, mid.Y)
		}
	}
}

func (g GlueUpSheet) discRadius(s Style, p GluePressing) float64 {
	return max(s.small()*0.75, s.Letters.Width(strconv.Itoa(p.Number), s.small(), true)/2+3)
}

// disc is a pressing's number, and to its right glue and clamps above the line, mass below it, as far as they fit.
func (g GlueUpSheet) disc(s Style, p GluePressing, at geom.Vec2, pitch, room float64) {
	r := g.discRadius(s, p)
	disc := geom.Region{circle(at, r)}
	ink := s.Ink.Ink
	if p.Marked {
		ink = s.Ink.Accent
	}
	g.Fill(disc, s.Ink.Paper)
	g.Outline(draw.Pen{Color: ink, Width: 0.9}, disc)
	size := s.small()
	g.Text(draw.Text{At: vec(at.X, at.Y+size*0.36), Words: strconv.Itoa(p.Number), Size: size, Bold: true, Color: ink, Align: draw.Centre})
	left := at.X + r + 4
	wide := min(pitch-2*r-8, g.Plan.Max.X-left)
	fits := func(words string) bool { return s.Letters.Width(words, size, false) <= wide }
	above := unit.Mass(p.GlueG, s.Units) + " glue"
	if more := fmt.Sprintf("%s, %d clamps", above, p.Clamps); p.Clamps > 0 && fits(more) {
		above = more
	}
	if room < size*1.3 || !fits(above) {
		return
	}
	g.Text(draw.Text{At: vec(left, at.Y-3.5), Words: above, Size: size, Color: s.Ink.Faint})
	if mass := "makes " + unit.Mass(p.MassG, s.Units); room >= size*2.6 && fits(mass) {
		g.Text(draw.Text{At: vec(left, at.Y+size+1.5), Words: mass, Size: size, Color: s.Ink.Faint})
	} else if mass := unit.Mass(p.MassG, s.Units); room >= size*2.6 && fits(mass) {
		g.Text(draw.Text{At: vec(left, at.Y+size+1.5), Words: mass, Size: size, Color: s.Ink.Faint})
	}
}
