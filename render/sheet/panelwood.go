package sheet

import (
	"slices"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// board is the panel itself: pale, since most of it goes into the dust bag, with faint grain and the line that parts keep to.
func (p PanelSheet) board(s Style, panel geom.Box2) {
	edge := p.onSheet(geom.Region{draw.BoxRing(panel)})
	pale := draw.Mix(s.Ink.Paper, s.Ink.Wood, 0.45)
	p.Fill(edge, pale)
	var lines []draw.Segment
	for _, h := range draw.Hatch(edge, vec(1, 0), 2.4*grainSpacing, p.lay.origin) {
		lines = append(lines, h.Segment)
	}
	p.Segments(draw.Pen{Color: draw.Mix(pale, s.Ink.Grain, 0.35), Width: 0.5}, lines...)
	if e := p.view.Edge; e > 0 && 2*e < min(p.view.Size.X, p.view.Size.Y) {
		in := box(e, e, p.view.Size.X-e, p.view.Size.Y-e)
		pen := draw.Pen{Color: s.Ink.Faint, Width: 0.6, Dash: []float64{3, 3}}
		if p.view.EdgeClash {
			pen.Color, pen.Width = s.Ink.Accent, 1.5
		}
		p.Outline(pen, p.onSheet(geom.Region{draw.BoxRing(in)}))
	}
	p.Outline(s.heavy(), edge)
}

// part is one part: cleared ground round it, wood with its grain, hollow, tabs and pins.
func (p PanelSheet) part(s Style, part PanelPart, picked bool) {
	outline, core := p.onSheet(part.Outline), p.onSheet(part.Core)
	ground := p.onSheet(part.Boundary)
	p.Fill(ground, s.Ink.Paper)
	p.Outline(s.cleared(), ground)
	for _, t := range part.Tabs {
		p.Fill(geom.Region{p.bridge(t)}, s.Ink.Ink)
		if t.Picked {
			middle := p.ToSheet(t.At.Add(t.Out.Scale(t.Length / 2)))
			p.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.6}, geom.Region{circle(middle, max(t.Length*p.PerMM*0.7, 6))})
		}
	}
	p.Fill(outline, s.Ink.Wood)
	p.Fill(core, s.Ink.Paper)
	p.lay.grain(LayerView{}, s, rimRegion(outline, core))
	p.Outline(s.core(), core)
	for _, t := range part.Tabs {
		if t.Root > 0 {
			p.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.7}, geom.Region{p.bridge(PanelTab{At: t.At.Sub(t.Out.Scale(t.Root)), Out: t.Out, Width: t.Width, Length: t.Root})})
		}
	}
	pen := s.heavy()
	if part.Clash {
		pen = draw.Pen{Color: s.Ink.Accent, Width: 2}
	} else if picked {
		pen.Width = 2.8
	}
	p.Outline(pen, outline)
	for _, pin := range part.Pins {
		p.peg(s, pin, 2)
	}
}

func (s Style) cleared() draw.Pen {
	return draw.Pen{Color: s.Ink.Faint, Width: 0.7, Dash: []float64{6, 2.5}}
}

// bridge is a tab on the sheet, a little into the part so that no gap shows at a round outline.
func (p PanelSheet) bridge(t PanelTab) geom.Ring {
	side := vec(-t.Out.Y, t.Out.X).Scale(t.Width / 2)
	root, end := t.At.Sub(t.Out.Scale(t.Width/4)), t.At.Add(t.Out.Scale(t.Length))
	ring := geom.Ring{root.Sub(side), end.Sub(side), end.Add(side), root.Add(side)}
	return p.onSheet(geom.Region{ring})[0]
}

// peg is a hole at its size, at least so large on the sheet, with cross hairs.
func (p PanelSheet) peg(s Style, g Peg, least float64) {
	at := p.ToSheet(g.At)
	r := max(g.Diameter/2*p.PerMM, least)
	hole := geom.Region{circle(at, r)}
	p.Fill(hole, s.Ink.Paper)
	pen := draw.Pen{Color: s.Ink.Ink, Width: 0.9}
	if g.Clash {
		pen = draw.Pen{Color: s.Ink.Accent, Width: 2}
	}
	if g.Picked {
		p.Outline(pen, geom.Region{circle(at, r+4)})
	}
	p.Outline(pen, hole)
	p.Segments(pen, draw.Segment{vec(at.X-r-3, at.Y), vec(at.X+r+3, at.Y)}, draw.Segment{vec(at.X, at.Y-r-3), vec(at.X, at.Y+r+3)})
}

// holding is what keeps the panel in its place: clamps, register dowels, and the line that it is turned about.
func (p PanelSheet) holding(s Style) {
	for _, c := range p.view.Clamps {
		p.clamp(s, c)
	}
	size := p.view.Size
	a, b := vec(0, size.Y/2), vec(size.X, size.Y/2)
	if p.view.Flip == AboutY {
		a, b = vec(size.X/2, 0), vec(size.X/2, size.Y)
	}
	a, b = p.ToSheet(a), p.ToSheet(b)
	if len(p.view.Dowels) > 0 && b != a {
		out := b.Sub(a).Scale(7 / b.Sub(a).Len())
		p.Segments(s.chain(), draw.Segment{a.Sub(out), b.Add(out)})
	}
	for _, d := range p.view.Dowels {
		p.peg(s, d, 3.5)
	}
}

// clamp is what a clamp covers, with its number: hatched where it holds the side that is up, dashed for the other one.
func (p PanelSheet) clamp(s Style, c PanelClamp) {
	ring := geom.Region{draw.BoxRing(c.Box2)}
	edge := draw.Pen{Color: s.Ink.Ink, Width: 0.8}
	words := draw.Text{Words: strconv.Itoa(c.Number), Size: s.small(), Color: s.Ink.Ink, Align: draw.Centre}
	if c.Over {
		ring = p.onSheet(ring)
		edge = draw.Pen{Color: s.Ink.Faint, Width: 0.8, Dash: []float64{4, 3}}
		words.Color = s.Ink.Faint
	} else {
		ring = p.lay.onSheet(ring) // on the bed: the panel turns, clamps don't
		p.Fill(ring, s.Ink.Paper)
		var lines []draw.Segment
		for _, h := range draw.Hatch(ring, vec(1, 1), 4, p.lay.origin) {
			lines = append(lines, h.Segment)
		}
		p.Segments(draw.Pen{Color: s.Ink.Faint, Width: 0.6}, lines...)
	}
	if c.Clash {
		edge.Color, edge.Width = s.Ink.Accent, 2
	}
	p.Outline(edge, ring)
	room := ring.Box().Size()
	if width := s.Letters.Width(words.Words, words.Size, false); width+4 > room.X || words.Size+2 > room.Y {
		return
	} else if middle := ring.Box().Min.Add(ring.Box().Max).Scale(0.5); !c.Over {
		p.Rect(box(middle.X-width/2-2, middle.Y-words.Size/2-1, middle.X+width/2+2, middle.Y+words.Size/2+1), s.Ink.Paper)
	}
	words.At = ring.Box().Min.Add(ring.Box().Max).Scale(0.5).Add(vec(0, words.Size*0.36))
	p.Text(words)
}

// name is a part's number in a disc in the middle of the part, or in its hollow; a locked part's disc is dark. One that
// would hide another is left out.
func (p PanelSheet) name(s Style, part PanelPart, picked bool, taken []geom.Box2) {
	if part.Name == "" || len(part.Outline) == 0 {
		return
	}
	t := draw.Text{Words: part.Name, Size: s.text(), Bold: true, Color: s.Ink.Ink, Align: draw.Centre}
	ground := s.Ink.Paper
	if part.Locked {
		t.Color, ground = s.Ink.Paper, s.Ink.Ink
	}
	r := max(s.text()*0.85, s.Letters.Width(t.Words, t.Size, true)/2+4)
	at := p.ToSheet(Middle(part.Outline))
	bare := false
	if size := part.Outline.Box().Size().Scale(p.PerMM); min(size.X, size.Y) < 2*r && !picked {
		t.Size = s.small() - 1 // a disc would hide the part
		r = s.Letters.Width(t.Words, t.Size, true)/2 + 2
		bare = min(size.X, size.Y) < 2*r
		if area := part.Outline.Area() * p.PerMM * p.PerMM; bare && area < 4*r*t.Size {
			return // it would hide the part, or not be read on it
		}
	}
	around := box(at.X-r, at.Y-r, at.X+r, at.Y+r)
	if !within(around, p.Plan) || slices.ContainsFunc(taken, func(o geom.Box2) bool { return overlap(o, around) }) {
		return
	}
	t.At = vec(at.X, at.Y+t.Size*0.36)
	if bare && !part.Locked && !part.Clash {
		p.Text(t)
		return
	}
	disc := geom.Region{circle(at, r)}
	p.Fill(disc, ground)
	pen := draw.Pen{Color: s.Ink.Ink, Width: 0.8}
	if part.Clash {
		pen.Color = s.Ink.Accent
	}
	if picked {
		pen.Width = 2
	}
	p.Outline(pen, disc)
	p.Text(t)
}

// Middle is the centre of the largest outline of a region: where a part's number stands.
func Middle(r geom.Region) geom.Vec2 {
	best, area := geom.Ring(nil), 0.0
	for _, ring := range r {
		if a := ring.Area(); a > area {
			best, area = ring, a
		}
	}
	if c, ok := (geom.Region{best}).Centroid(); ok {
		return c
	}
	b := r.Box()
	return b.Min.Add(b.Max).Scale(0.5)
}

// foot has the scale bar, the grain arrow, and the legend where there is room.
func (p PanelSheet) foot(s Style, f layout) {
	base := f.foot.Max.Y - 4
	wide := f.foot.Size().X
	ScaleBar(p.Drawing, s, vec(f.foot.Min.X+4, base), min(wide*0.32, 150), p.PerMM)
	const arrow = 28
	at := vec(f.foot.Max.X-arrow/2-3, base-arrow/2+12)
	GrainArrow(p.Drawing, s, at, arrow, false)
	words := fitted(s, "its grain", s.small(), false, wide*0.5-arrow-20)
	p.Text(draw.Text{At: vec(at.X-arrow/2-6, at.Y+s.small()*0.36), Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Right})
	if f.foot.Size().Y > 40 {
		p.legend(s, f.foot.Min.Y+s.text()+2, f)
	}
}

// legend shows each kind of mark that this panel has, as far as the line is long.
func (p PanelSheet) legend(s Style, y float64, f layout) {
	has := func(of func(PanelPart) bool) bool { return slices.ContainsFunc(p.view.Parts, of) }
	x := f.foot.Min.X + 4
	line := func(pen draw.Pen) { p.Segments(pen, draw.Segment{vec(x, y-3.5), vec(x+20, y-3.5)}) }
	hole := func(r float64) {
		at := vec(x+10, y-3.5)
		pen := draw.Pen{Color: s.Ink.Ink, Width: 0.9}
		p.Outline(pen, geom.Region{circle(at, r)})
		p.Segments(pen, draw.Segment{vec(at.X-r-2.5, at.Y), vec(at.X+r+2.5, at.Y)}, draw.Segment{vec(at.X, at.Y-r-2.5), vec(at.X, at.Y+r+2.5)})
	}
	for _, e := range []struct {
		words string
		mark  func()
		shown bool
	}{
		{"part", func() { line(s.heavy()) }, len(p.view.Parts) > 0},
		{"carve boundary", func() { line(s.cleared()) }, has(func(q PanelPart) bool { return len(q.Boundary) > 0 })},
		{"tab", func() { p.Rect(box(x+6, y-6, x+14, y-1), s.Ink.Ink) }, has(func(q PanelPart) bool { return len(q.Tabs) > 0 })},
		{"clamp", func() {
			p.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.8}, geom.Region{draw.BoxRing(box(x+4, y-7, x+16, y))})
		}, len(p.view.Clamps) > 0},
		{"register dowel", func() { hole(4) }, len(p.view.Dowels) > 0},
		{"pin", func() { hole(2) }, has(func(q PanelPart) bool { return len(q.Pins) > 0 })},
		{"turned about", func() { line(s.chain()) }, len(p.view.Dowels) > 0},
	} {
		w := s.Letters.Width(e.words, s.small(), false)
		if !e.shown || x+26+w > f.foot.Max.X {
			continue
		}
		e.mark()
		p.Text(draw.Text{At: vec(x+26, y), Words: e.words, Size: s.small(), Color: s.Ink.Faint})
		x += 26 + w + 14
	}
}
