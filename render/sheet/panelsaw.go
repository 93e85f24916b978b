package sheet

import (
	"fmt"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A SawView is one board with what is sawn from it, in millimetres: the board's lower left corner is 0, 0, its grain runs
// along X.
type SawView struct {
	Number, Count int // this board of so many, from 1
	Name          string
	Size          geom.Vec2
	Panels        []geom.Box2
	First         int            // number of the first panel
	Numbers       []int          // of all panels, where they don't go on from the first
	Cuts          [][2]geom.Vec2 // in order, along the middle of the kerf
	Offcuts       []geom.Box2
}

// number is that of panel i, from 0.
func (v SawView) number(i int) int {
	if i < len(v.Numbers) {
		return v.Numbers[i]
	}
	return v.First + i
}

// Saw draws a board on w × h drawing units: panels with their numbers, cuts with theirs at their ends, offcuts hatched with
// their sizes.
func Saw(v SawView, s Style, w, h float64) *draw.Drawing {
	d := draw.New(w, h, s.Ink.Paper)
	f := layOut(LayerView{Message: "-"}, s, w, h)
	l := LayerSheet{Drawing: d, Plan: f.plan}
	if !s.Bare {
		l.sawTitle(v, s, f)
	}
	if !(v.Size.X > 0 && v.Size.Y > 0) {
		message(d, s, "There is no board yet.", f.plan)
		return d
	}
	dim := s.small() + 16
	f.room = box(f.plan.Min.X+dim, f.plan.Min.Y+dim*0.8, f.plan.Max.X-dim*0.8, f.plan.Max.Y-dim)
	board := geom.Region{draw.BoxRing(geom.Box2{Max: v.Size})}
	l.fit(LayerView{Widest: board}, f, Look{})
	l.Fill(l.onSheet(board), draw.Mix(s.Ink.Paper, s.Ink.Wood, 0.4))
	for _, o := range v.Offcuts {
		l.offcut(o, s)
	}
	for i, p := range v.Panels {
		l.sawnPanel(p, v.number(i), s)
	}
	l.cuts(v, s)
	l.Outline(s.heavy(), l.onSheet(board))
	l.sizes(s, f)
	return d
}

func (l LayerSheet) sawTitle(v SawView, s Style, f layout) {
	size := s.text() + 1
	at := vec(f.pad+2, f.pad+size)
	head := fmt.Sprintf("Board %d of %d", v.Number, v.Count)
	l.Text(draw.Text{At: at, Words: head, Size: size, Bold: true, Color: s.Ink.Ink})
	n := len(v.Panels)
	rest := fmt.Sprintf("%d %s · %d %s", n, phrase.Plural(n, "panel", "panels"), len(v.Cuts), phrase.Plural(len(v.Cuts), "cut", "cuts"))
	if v.Name != "" {
		rest = v.Name + " · " + rest
	}
	x := at.X + s.Letters.Width(head, size, true) + 10
	l.Text(draw.Text{At: vec(x, at.Y), Words: fitted(s, rest, s.text(), false, l.W-f.pad-x), Size: s.text(), Color: s.Ink.Faint})
}

// sawnPanel is a panel with its grain, its number and its size.
func (l LayerSheet) sawnPanel(b geom.Box2, number int, s Style) {
	ring := l.onSheet(geom.Region{draw.BoxRing(b)})
	l.Fill(ring, s.Ink.Wood)
	l.grain(LayerView{}, s, ring)
	l.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.6}, ring)
	words := strconv.Itoa(number)
	at := l.ToSheet(b.Min.Add(b.Max).Scale(0.5))
	r := max(s.text(), s.Letters.Width(words, s.text(), true)/2+4)
	disc := geom.Region{circle(at, r)}
	l.Fill(disc, s.Ink.Paper)
	l.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.8}, disc)
	l.Text(draw.Text{At: vec(at.X, at.Y+s.text()*0.36), Words: words, Size: s.text(), Bold: true, Color: s.Ink.Ink, Align: draw.Centre})
}

// offcut is what is left: hatched, with its size where there is room.
func (l LayerSheet) offcut(b geom.Box2, s Style) {
	ring := l.onSheet(geom.Region{draw.BoxRing(b)})
	var lines []draw.Segment
	for _, h := range draw.Hatch(ring, vec(1, -1), 9, l.origin) {
		lines = append(lines, h.Segment)
	}
	l.Segments(draw.Pen{Color: s.Ink.Rule, Width: 0.6}, lines...)
	size := b.Size()
	words := s.figure(size.X) + " × " + unit.Length(size.Y, s.Units)
	t := draw.Text{Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Centre}
	at := l.ToSheet(b.Min.Add(b.Max).Scale(0.5))
	t.At = vec(at.X, at.Y+s.small()*0.36)
	if size.X < size.Y {
		t.Up, t.At = true, vec(at.X+s.small()*0.36, at.Y)
	}
	around := airy(s, t)
	if within(around, ring.Box()) {
		l.Rect(around, draw.Mix(s.Ink.Paper, s.Ink.Wood, 0.4))
		l.Text(t)
	}
}

// airy is the box of a text with a little air.
func airy(s Style, t draw.Text) geom.Box2 {
	b := s.Letters.Box(t)
	return box(b.Min.X-3, b.Min.Y-2, b.Max.X+3, b.Max.Y+2)
}

// cuts are dashed lines with their numbers near their ends: those of level cuts further in, so that they clear the others.
func (l LayerSheet) cuts(v SawView, s Style) {
	for i, c := range v.Cuts {
		a, b := l.ToSheet(c[0]), l.ToSheet(c[1])
		l.Segments(draw.Pen{Color: s.Ink.Ink, Width: 1.3, Dash: []float64{8, 3}}, draw.Segment{a, b})
		words := strconv.Itoa(i + 1)
		r := max(s.small()*0.72, s.Letters.Width(words, s.small(), false)/2+2)
		at, in := b, 1.3*r
		if a.Y == b.Y {
			in = 5 * r
		}
		if out := b.Sub(a); out.Len() > in {
			at = b.Sub(out.Scale(in / out.Len()))
		}
		disc := geom.Region{circle(at, r)}
		l.Fill(disc, s.Ink.Ink)
		l.Text(draw.Text{At: vec(at.X, at.Y+s.small()*0.36), Words: words, Size: s.small(), Color: s.Ink.Paper, Align: draw.Centre})
	}
}
