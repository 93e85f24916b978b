package sheet

import (
	"math"
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

// peg is a hole at its size, at least so large on the sheet, with the cross of its face.
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
	p.Segments(pen, pegCross(at, r+3, g.Lower)...)
}

// pegCross is the sign of the face that a hole goes into: an upright cross for the upper face and for dowels that go through, a
// slanting one for the lower face.
func pegCross(at geom.Vec2, arm float64, lower bool) []draw.Segment {
	way, across := vec(arm, 0), vec(0, arm)
	if lower {
		way, across = vec(arm, arm).Scale(math.Sqrt2/2), vec(arm, -arm).Scale(math.Sqrt2/2)
	}
	return []draw.Segment{{at.Sub(way), at.Add(way)}, {at.Sub(across), at.Add(across)}}
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

// zero marks where X and Y are 0, the lower left corner of the side that is up, and gives the boxes of its letters.
func (p PanelSheet) zero(s Style) (taken []geom.Box2) {
	const arm, head = 30.0, 7.0
	corner := p.lay.ToSheet(vec(0, 0))
	for _, axis := range []struct {
		name     string
		way, off geom.Vec2
	}{{"X", vec(1, 0), vec(-2, -4)}, {"Y", vec(0, -1), vec(7, 8)}} {
		tip := corner.Add(axis.way.Scale(arm))
		p.Segments(draw.Pen{Color: s.Ink.Ink, Width: 1.2}, draw.Segment{corner, tip})
		p.Fill(geom.Region{arrowHead(tip, axis.way, head)}, s.Ink.Ink)
		t := draw.Text{At: tip.Add(axis.off), Words: axis.name, Size: s.small(), Bold: true, Color: s.Ink.Ink, Align: draw.Centre}
		p.Text(t)
		taken = append(taken, s.Letters.Box(t))
	}
	return taken
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

// names are the parts' numbers, each in a disc in the middle of the part, or in its hollow; a locked part's disc is dark. Where
// that would hide the part, or another number, it stands beside it.
func (p PanelSheet) names(s Style, taken []geom.Box2) {
	parts := make([]geom.Region, len(p.view.Parts))
	for i, part := range p.view.Parts {
		parts[i] = p.onSheet(part.Outline)
	}
	t := &tags{Drawing: p.Drawing, style: s, room: p.Plan, taken: taken, covers: func(b geom.Box2) bool {
		return slices.ContainsFunc(parts, func(r geom.Region) bool { return lies(r, b) })
	}}
	var rest []int
	for i, part := range p.view.Parts {
		if part.Name != "" && len(part.Outline) > 0 && !p.name(s, part, i+1 == p.view.Picked, t) {
			rest = append(rest, i)
		}
	}
	for _, i := range rest {
		if b := parts[i].Box(); overlap(b, p.Plan) {
			t.beside(b, p.view.Parts[i].Name)
		}
	}
}

// discShare is how much of a part its number may hide; more, and it stands beside it.
const discShare = 0.2

// name writes a part's number on the part; ok is false where it has no room there.
func (p PanelSheet) name(s Style, part PanelPart, picked bool, taken *tags) (ok bool) {
	t := draw.Text{Words: part.Name, Size: s.text(), Bold: true, Color: s.Ink.Ink, Align: draw.Centre}
	ground := s.Ink.Paper
	if part.Locked {
		t.Color, ground = s.Ink.Paper, s.Ink.Ink
	}
	r := max(s.text()*0.85, s.Letters.Width(t.Words, t.Size, true)/2+4)
	if area := part.Outline.Area() * p.PerMM * p.PerMM; r*r*math.Pi > discShare*area && !part.Clash && !part.Locked {
		return false // a disc would hide too much of the part; one that is locked or in the way has to show that
	}
	at := p.ToSheet(Middle(part.Outline))
	bare := false
	if size := part.Outline.Box().Size().Scale(p.PerMM); min(size.X, size.Y) < 2*r && !picked {
		t.Size = s.small() - 1 // a disc would hide the part
		r = s.Letters.Width(t.Words, t.Size, true)/2 + 2
		bare = min(size.X, size.Y) < 2*r
		if area := part.Outline.Area() * p.PerMM * p.PerMM; bare && area < 4*r*t.Size {
			return false // it would hide the part, or not be read on it
		}
	}
	around := box(at.X-r, at.Y-r, at.X+r, at.Y+r)
	if !taken.free(around) {
		return false
	}
	taken.taken = append(taken.taken, around)
	t.At = vec(at.X, at.Y+t.Size*0.36)
	if bare && !part.Locked && !part.Clash {
		p.Text(t)
		return true
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
	return true
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
	grainArrow(p.Drawing, s, at, arrow, false)
	words := fitted(s, "its grain", s.small(), false, wide*0.5-arrow-20)
	p.Text(draw.Text{At: vec(at.X-arrow/2-6, at.Y+s.small()*0.36), Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Right})
	drawKeys(p.Drawing, p.keys(s), s, f)
}

// keys are the legend of a panel.
func (p PanelSheet) keys(s Style) []key {
	has := func(of func(PanelPart) bool) bool { return slices.ContainsFunc(p.view.Parts, of) }
	pins := func(lower bool) bool { return has(func(q PanelPart) bool { return hasPeg(q.Pins, lower) }) }
	tab := func(d *draw.Drawing, at geom.Vec2) { d.Rect(box(at.X-4, at.Y-2.5, at.X+4, at.Y+2.5), s.Ink.Ink) }
	clamp := func(d *draw.Drawing, at geom.Vec2) {
		d.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.8}, geom.Region{draw.BoxRing(box(at.X-6, at.Y-3.5, at.X+6, at.Y+3.5))})
	}
	return []key{
		lineKey("part", s.heavy(), len(p.view.Parts) > 0),
		lineKey("carve boundary", s.cleared(), has(func(q PanelPart) bool { return len(q.Boundary) > 0 })),
		{"tab", tab, has(func(q PanelPart) bool { return len(q.Tabs) > 0 })},
		{"clamp", clamp, len(p.view.Clamps) > 0},
		pegKey("register dowel", s, 4, false, len(p.view.Dowels) > 0),
		pegKey("pin, upper face", s, 2, false, pins(false)),
		pegKey("pin, lower face", s, 2, true, pins(true)),
		lineKey("turned about", s.chain(), len(p.view.Dowels) > 0),
	}
}
