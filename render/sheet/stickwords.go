package sheet

import (
	"math"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// markRadius is that of a red mark that has none of its own, in drawing units.
const markRadius = 5.5

// A shelf keeps lettering in one column from running together: a place is taken only if it is free.
type shelf struct{ taken [][2]float64 }

func (f *shelf) take(y0, y1 float64) bool {
	for _, t := range f.taken {
		if y0 < t[1] && y1 > t[0] {
			return false
		}
	}
	f.taken = append(f.taken, [2]float64{y0, y1})
	return true
}

// sparse is 1 where a step is at least room high, else the smallest of 2, 5, 10, 20, 50 … steps that are twice as high:
// labels that are left out leave air.
func sparse(step, room float64) int {
	if step >= room {
		return 1
	}
	room *= 2
	if !(step > 0) {
		return 1 << 20
	}
	for p := 1; p < 1<<20; p *= 10 {
		for _, m := range []int{1, 2, 5} {
			if float64(m*p)*step >= room {
				return m * p
			}
		}
	}
	return 1 << 20
}

// numbers stand left of their layers: the picked one always, then those with marks, the first, the last, and of the rest
// as many as there is room for, evenly.
func (t StickSheet) numbers(v StickView, s Style, c columns) {
	size := s.small()
	room := size * 1.2
	n := len(v.Layers)
	every := sparse((v.Layers[n-1].Top-v.Layers[0].Bottom)*t.PerMM/float64(n), room)
	var f shelf
	put := func(want func(i int, l StickLayer) bool) {
		for i, l := range v.Layers {
			if !want(i, l) {
				continue
			}
			y := t.Y((l.Bottom + l.Top) / 2)
			if !f.take(y-room/2, y+room/2) {
				continue
			}
			x := draw.Text{At: vec(c.numbers, y+size*0.36), Words: strconv.Itoa(l.Number), Size: size, Color: s.Ink.Faint, Align: draw.Right}
			switch {
			case l.Number == v.Picked:
				x.Bold, x.Color = true, s.Ink.Ink
			case l.Marks > 0:
				x.Color = s.Ink.Accent
			}
			t.Text(x)
		}
	}
	put(func(_ int, l StickLayer) bool { return l.Number == v.Picked })
	put(func(_ int, l StickLayer) bool { return l.Number != v.Picked && l.Marks > 0 })
	put(func(i int, l StickLayer) bool { return l.Number != v.Picked && l.Marks == 0 && (i == 0 || i == n-1) })
	put(func(i int, l StickLayer) bool {
		return l.Number != v.Picked && l.Marks == 0 && i > 0 && i < n-1 && l.Number%every == 0
	})
}

// heights stand right of the joints: floor and top always, then the picked layer's faces, then evenly.
func (t StickSheet) heights(v StickView, s Style, c columns, head float64) {
	size := s.small()
	room := size * 1.3
	n := len(v.Layers)
	every := sparse((v.Layers[n-1].Top-v.Layers[0].Bottom)*t.PerMM/float64(n), size*2.2)
	var f shelf
	var ticks []draw.Segment
	put := func(z float64, picked bool) {
		y := t.Y(z)
		if !f.take(y-room/2, y+room/2) {
			return
		}
		ink := s.Ink.Faint
		if picked {
			ink = s.Ink.Ink
		}
		t.Text(draw.Text{At: vec(c.heights, y+size*0.36), Words: c.height(s, z), Size: size, Color: ink})
		ticks = append(ticks, draw.Segment{vec(c.right, y), vec(c.right+5, y)})
	}
	for _, l := range v.Layers {
		if l.Number == v.Picked {
			put(l.Bottom, true)
			put(l.Top, true)
		}
	}
	put(v.Layers[0].Bottom, false)
	put(v.Layers[n-1].Top, false)
	for i, l := range v.Layers {
		if i > 0 && i%every == 0 {
			put(l.Bottom, false)
		}
	}
	t.Segments(draw.Pen{Color: s.Ink.Faint, Width: 0.8}, ticks...)
	t.Text(draw.Text{At: vec(c.heights, head-size*1.1), Words: s.unitName(), Size: size, Color: s.Ink.Faint})
}

// scaleEdge is where that is written from.
const scaleEdge = 4

// scale says, above the stick, by how much widths are narrower than heights, where they are.
func (t StickSheet) scale(s Style, c columns, head float64) {
	share := c.squeeze / t.PerMM
	if share > 0.995 {
		return
	}
	size := s.small()
	percent := strconv.Itoa(max(1, int(math.Round(share*100)))) + " %"
	for _, words := range []string{"drawn narrowed to " + percent + " of its width", "narrowed to " + percent} {
		if s.Letters.Width(words, size, false) <= c.heights-scaleEdge-8 {
			t.Text(draw.Text{At: vec(scaleEdge, head-size*1.1), Words: words, Size: size, Color: s.Ink.Faint})
			return
		}
	}
}

// height is a height's figure; narrow sheets have whole millimetres.
func (c columns) height(s Style, z float64) string {
	if c.narrow && s.Units == unit.Metric {
		z = math.Round(z)
	}
	return s.figure(z)
}

// marks are red dots at layers that need a look, with how many things if more than one.
func (t StickSheet) marks(v StickView, s Style, c columns) {
	for _, l := range v.Layers {
		if l.Marks == 0 {
			continue
		}
		at := vec(c.marks, t.Y((l.Bottom+l.Top)/2))
		r := l.MarkRadius
		if r <= 0 {
			r = markRadius
		}
		r = min(r, max((l.Top-l.Bottom)*t.PerMM*0.5, 1.5))
		t.Fill(geom.Region{circle(at, r+1.2)}, s.Ink.Paper)
		t.Fill(geom.Region{circle(at, r)}, s.Ink.Accent)
		if l.Marks > 1 && l.Marks < 10 && r >= 4.5 {
			size := r * 1.6
			t.Text(draw.Text{At: vec(at.X, at.Y+size*0.36), Words: strconv.Itoa(l.Marks), Size: size, Bold: true, Color: s.Ink.Paper, Align: draw.Centre})
		}
	}
}

// picked frames the picked layer.
func (t StickSheet) picked(v StickView, s Style, c columns) {
	for _, l := range v.Layers {
		if l.Number == v.Picked {
			b := box(c.left-2.5, t.Y(l.Top)-0.5, c.right+2.5, t.Y(l.Bottom)+0.5)
			t.Outline(draw.Pen{Color: s.Ink.Ink, Width: 2}, geom.Region{draw.BoxRing(b)})
		}
	}
}
