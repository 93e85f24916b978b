package sheet

import (
	"fmt"
	"sort"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A GlueUpView is what a glue-up sheet shows: the layers from the front, lifted apart in the order of gluing.
type GlueUpView struct {
	Layers    []GlueLayer    // from the floor up
	Outline   []Span         // the piece from the front, heights rising
	Pressings []GluePressing // in the order of work
	Done      int            // pressings up to this number are behind us: their layers lie together
	Picked    int            // number of the pressing in hand, 0 for none; those after it are drawn faint

	Notes   []string
	Message string // stands in the middle instead of the drawing
}

// A GlueLayer is one layer of the stack.
type GlueLayer struct {
	Number      int
	Bottom, Top float64
	Turned      bool
}

// A GluePressing joins the layers From … To, of which the first above its joint is Upper.
type GluePressing struct {
	Number, Stage   int // from 1
	From, Upper, To int
	GlueG           float64
	ForceN          float64
	Clamps          int
	MassG           float64 // of what it makes
	Marked          bool    // needs a look
}

// A GlueUpSheet is the drawing; X right, Y down in drawing units.
type GlueUpSheet struct {
	*draw.Drawing
	Plan  geom.Box2
	PerMM float64     // drawing units a millimetre, 0 without layers
	Rows  []geom.Box2 // where each layer lies, in the order of the view
}

// LayerAt is the number of the layer drawn at y, the nearest one in the gaps; ok is false without layers.
func (g GlueUpSheet) LayerAt(v GlueUpView, y float64) (number int, ok bool) {
	for i := len(g.Rows) - 1; i >= 0; i-- {
		if y < g.Rows[i].Max.Y || i == 0 {
			return v.Layers[i].Number, true
		}
	}
	return 0, false
}

// GlueUp draws a glue-up sheet of w × h drawing units: the stack with a gap at every joint, the wider the later the joint is
// pressed, and beside it a bracket for every pressing.
func GlueUp(v GlueUpView, s Style, w, h float64) GlueUpSheet {
	d := draw.New(w, h, s.Ink.Paper)
	f := layOut(LayerView{Notes: v.Notes, Message: "-"}, s, w, h)
	g := GlueUpSheet{Drawing: d, Plan: f.plan}
	if !s.Bare {
		if len(v.Pressings) > 0 {
			g.title(v, s, f)
		}
		notes(d, s, f)
	}
	if v.Message == "" && len(v.Layers) == 0 {
		v.Message = "There are no layers to glue yet."
	}
	if v.Message != "" {
		message(d, s, v.Message, f.plan)
		return g
	}
	c := g.share(v, s)
	g.lift(v, c)
	g.layers(v, s, c)
	g.brackets(v, s, c)
	return g
}

// stages is how deep the order is.
func (v GlueUpView) stages() (n int) {
	for _, p := range v.Pressings {
		n = max(n, p.Stage)
	}
	return n
}

func (g GlueUpSheet) title(v GlueUpView, s Style, f layout) {
	size := s.text() + 1
	at := vec(f.pad+2, f.pad+size)
	head := "Glue-up"
	g.Text(draw.Text{At: at, Words: head, Size: size, Bold: true, Color: s.Ink.Ink})
	glue := 0.0
	for _, p := range v.Pressings {
		glue += p.GlueG
	}
	n, deep := len(v.Pressings), v.stages()
	rest := fmt.Sprintf("%d %s in %d %s · %s of glue", n, phrase.Plural(n, "joint", "joints"), deep, phrase.Plural(deep, "stage", "stages"), unit.Mass(glue, s.Units))
	x := at.X + s.Letters.Width(head, size, true) + 10
	g.Text(draw.Text{At: vec(x, at.Y), Words: fitted(s, rest, s.text(), false, g.W-f.pad-x), Size: s.text(), Color: s.Ink.Faint})
}

// A glueColumns is how the sheet is shared out: numbers, layers, brackets.
type glueColumns struct {
	numbers float64 // right end of the layers' numbers
	body    geom.Box2
	first   float64 // where the brackets begin
	pitch   float64 // from one stage's bracket to the next
}

func (g GlueUpSheet) share(v GlueUpView, s Style) glueColumns {
	p := g.Plan
	c := glueColumns{numbers: p.Min.X + 6 + s.Letters.Width("000", s.small(), false)}
	wide := p.Max.X - c.numbers - 10
	c.body = box(c.numbers+10, p.Min.Y+6+1.6*s.small(), c.numbers+10+wide*0.42, p.Max.Y-6)
	c.first = c.body.Max.X + 14
	c.pitch = (p.Max.X - 4 - c.first) / float64(max(1, v.stages()))
	return c
}

// gaps are the distances above each layer but the last, in parts: a joint pressed in stage k gets k, one that is done none.
func (v GlueUpView) gaps() (out []float64, sum float64) {
	out = make([]float64, max(0, len(v.Layers)-1))
	for i := range out {
		stage := 1
		for _, p := range v.Pressings {
			if p.Upper != v.Layers[i+1].Number {
				continue
			}
			if stage = p.Stage; p.Number <= v.Done {
				stage = 0
			}
		}
		out[i] = float64(stage)
		sum += out[i]
	}
	return out, sum
}

// The gap of a first joint, in drawing units: what is aimed at, and the most where there is height to spare.
const gapWanted, gapMost = 9.0, 16.0

// lift gives every layer its row, at one scale for heights and widths. Gaps take up to two fifths of the height, and more
// where the width is what bounds the scale.
func (g *GlueUpSheet) lift(v GlueUpView, c glueColumns) {
	lo, hi := v.width()
	tall := 0.0
	for _, l := range v.Layers {
		tall += l.Top - l.Bottom
	}
	room := c.body.Size()
	gaps, parts := v.gaps()
	one := 0.0
	if parts > 0 {
		one = min(gapWanted, 0.4*room.Y/parts)
	}
	g.PerMM = min((room.Y-one*parts)/max(tall, 1e-6), room.X/max(hi-lo, 1e-6))
	if parts > 0 {
		one = max(one, min(gapMost, (room.Y-tall*g.PerMM)/parts))
	}
	y := (c.body.Min.Y+c.body.Max.Y)/2 + (tall*g.PerMM+one*parts)/2
	x := (c.body.Min.X + c.body.Max.X) / 2
	for i, l := range v.Layers {
		high := (l.Top - l.Bottom) * g.PerMM
		g.Rows = append(g.Rows, box(x-(hi-lo)/2*g.PerMM, y-high, x+(hi-lo)/2*g.PerMM, y))
		y -= high
		if i < len(gaps) {
			y -= one * gaps[i]
		}
	}
}

// width is from where to where the piece reaches; without a silhouette it is as wide as it is tall.
func (v GlueUpView) width() (lo, hi float64) {
	if len(v.Outline) == 0 {
		tall := v.Layers[len(v.Layers)-1].Top - v.Layers[0].Bottom
		return -tall / 2, tall / 2
	}
	lo, hi = v.Outline[0].Min, v.Outline[0].Max
	for _, o := range v.Outline {
		lo, hi = min(lo, o.Min), max(hi, o.Max)
	}
	return lo, hi
}

// layers draws every slice of the silhouette in its row, with its grain, and its number.
func (g GlueUpSheet) layers(v GlueUpView, s Style, c glueColumns) {
	lo, _ := v.width()
	last := g.Plan.Max.Y + s.small()
	for i, l := range v.Layers {
		row := g.Rows[i]
		at := func(x, z float64) geom.Vec2 { return vec(row.Min.X+(x-lo)*g.PerMM, row.Max.Y-(z-l.Bottom)*g.PerMM) }
		ring := v.slice(l, at)
		if len(ring) < 3 {
			continue
		}
		wood := geom.Region{ring}
		g.Fill(wood, s.Ink.Wood)
		g.edgeGrain(s, wood, l.Turned)
		g.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1}, wood)
		if y := (row.Min.Y+row.Max.Y)/2 + s.small()*0.36; last-y >= s.small()*1.1 {
			g.Text(draw.Text{At: vec(c.numbers, y), Words: strconv.Itoa(l.Number), Size: s.small(), Color: s.Ink.Faint, Align: draw.Right})
			last = y
		}
	}
}

// slice is the silhouette between a layer's faces, carried to the sheet.
func (v GlueUpView) slice(l GlueLayer, at func(x, z float64) geom.Vec2) geom.Ring {
	if len(v.Outline) == 0 {
		lo, hi := v.width()
		return geom.Ring{at(lo, l.Top), at(hi, l.Top), at(hi, l.Bottom), at(lo, l.Bottom)}
	}
	spans := make([]Span, 0, 16)
	add := func(z float64) {
		if o, ok := spanAt(v.Outline, z); ok {
			spans = append(spans, o)
		}
	}
	add(l.Bottom)
	for _, o := range v.Outline {
		if o.Z > l.Bottom && o.Z < l.Top {
			spans = append(spans, o)
		}
	}
	add(l.Top)
	var ring geom.Ring
	for _, o := range spans {
		ring = append(ring, at(o.Max, o.Z))
	}
	for i := len(spans) - 1; i >= 0; i-- {
		ring = append(ring, at(spans[i].Min, spans[i].Z))
	}
	if ring.Area() < 0 {
		for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	return ring
}

// edgeGrain shows which way a layer's panel lies: lines along the edge, or the dots of end grain for a turned one.
func (g GlueUpSheet) edgeGrain(s Style, wood geom.Region, turned bool) {
	pen := draw.Pen{Color: draw.Mix(s.Ink.Wood, s.Ink.Grain, 0.75), Width: 0.6}
	if turned {
		pen.Dash, pen.Width = []float64{0, 3}, 0.9
	}
	var lines []draw.Segment
	for _, h := range draw.Hatch(wood, vec(1, 0), 3, wood.Box().Min) {
		lines = append(lines, h.Segment)
	}
	g.Segments(pen, lines...)
}

// spanAt is the silhouette at a height, between its rows by proportion; ok is false above and below it.
func spanAt(spans []Span, z float64) (p Span, ok bool) {
	i := sort.Search(len(spans), func(i int) bool { return spans[i].Z >= z })
	if i == len(spans) || (i == 0 && spans[0].Z > z) {
		return p, false
	}
	if i == 0 || spans[i].Z == z {
		return Span{z, spans[i].Min, spans[i].Max}, true
	}
	a, b := spans[i-1], spans[i]
	f := (z - a.Z) / (b.Z - a.Z)
	return Span{z, a.Min + (b.Min-a.Min)*f, a.Max + (b.Max-a.Max)*f}, true
}
