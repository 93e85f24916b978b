package sheet

import (
	"math"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

func vec(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

func box(x0, y0, x1, y1 float64) geom.Box2 { return geom.Box2{Min: vec(x0, y0), Max: vec(x1, y1)} }

// arrowHead is a slim filled head with its point at tip, pointing along dir (a unit vector).
func arrowHead(tip, dir geom.Vec2, length float64) geom.Ring {
	back := tip.Sub(dir.Scale(length))
	side := vec(-dir.Y, dir.X).Scale(length * 0.22)
	return geom.Ring{tip, back.Add(side), back.Sub(side)}
}

// Dimension draws a dimension line from a to b (level or upright) with a head at each end and its words: below a level
// line, left of an upright one and reading upwards. ends are where its extension lines begin, at the thing measured. The
// words are kept inside keep, and left out where keep is too small for them. It gives the box of the words, empty without.
func dimension(d *draw.Drawing, s Style, a, b geom.Vec2, ends [2]geom.Vec2, words string, keep geom.Box2) geom.Box2 {
	pen := draw.Pen{Color: s.Ink.Faint, Width: 0.7}
	dir := b.Sub(a)
	n := dir.Len()
	if n == 0 {
		return geom.EmptyBox2()
	}
	dir = dir.Scale(1 / n)
	for i, p := range [2]geom.Vec2{a, b} {
		out := p.Sub(ends[i])
		if l := out.Len(); l > 3 {
			out = out.Scale(1 / l)
			d.Segments(draw.Pen{Color: s.Ink.Rule, Width: 0.7}, draw.Segment{ends[i].Add(out.Scale(3)), p.Add(out.Scale(3))})
		}
	}
	d.Segments(pen, draw.Segment{a, b})
	head := min(7, n/3)
	d.Fill(geom.Region{arrowHead(a, dir.Scale(-1), head)}, s.Ink.Faint)
	d.Fill(geom.Region{arrowHead(b, dir, head)}, s.Ink.Faint)

	t := draw.Text{Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Centre}
	t.At = a.Add(b).Scale(0.5)
	half := s.Letters.Width(words, t.Size, false) / 2
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		t.At.Y += t.Size + 1
		t.At.X = clamp(t.At.X, keep.Min.X+half, keep.Max.X-half)
	} else {
		t.At.X -= 4
		t.Up = true
		t.At.Y = clamp(t.At.Y, keep.Min.Y+half, keep.Max.Y-half)
	}
	taken := s.Letters.Box(t)
	if !within(taken, keep) {
		return geom.EmptyBox2()
	}
	d.Text(t)
	return taken
}

func overlap(a, b geom.Box2) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }

func within(a, b geom.Box2) bool {
	return a.Min.X >= b.Min.X && a.Min.Y >= b.Min.Y && a.Max.X <= b.Max.X && a.Max.Y <= b.Max.Y
}

// ScaleBar draws a bar from at (its lower left corner) for a plan of perMM drawing units a millimetre: the longest round
// length (1, 2 or 5 times a power of ten; in inches also halves, quarters and so on) that is at most room long. It gives
// the bar's length in millimetres, 0 where there was no room.
func ScaleBar(d *draw.Drawing, s Style, at geom.Vec2, room, perMM float64) float64 {
	mm, divisions, words := scaleStep(room/perMM, s.Units)
	if mm == 0 {
		return 0
	}
	const tall = 4
	w := mm * perMM
	step := w / float64(divisions)
	for i := range divisions {
		x := at.X + float64(i)*step
		if i%2 == 0 {
			d.Rect(box(x, at.Y-tall, x+step, at.Y), s.Ink.Ink)
		}
	}
	d.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.8}, geom.Region{draw.BoxRing(box(at.X, at.Y-tall, at.X+w, at.Y))})
	y := at.Y - tall - 4
	d.Text(draw.Text{At: vec(at.X, y), Words: "0", Size: s.small(), Color: s.Ink.Faint})
	if t := (draw.Text{At: vec(at.X+w, y), Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Centre}); s.Letters.Box(t).Min.X > at.X+9 {
		d.Text(t)
	} else {
		t.At, t.Align = vec(at.X+w+5, at.Y), draw.Left
		d.Text(t)
	}
	return mm
}

// scaleStep is the longest round length up to most mm, in how many divisions it is drawn, and its name.
func scaleStep(most float64, system unit.System) (mm float64, divisions int, words string) {
	one, name, inches := unit.MM.MM(), " mm", system == unit.Inch
	if inches {
		one, name = unit.In.MM(), " in"
	}
	most /= one
	if !(most > 1e-6) || math.IsInf(most, 0) {
		return 0, 0, ""
	}
	if inches && most < 1 {
		for n := 2; n <= 64; n *= 2 {
			if f := 1 / float64(n); f <= most {
				return f * one, 4, "1/" + strconv.Itoa(n) + name
			}
		}
	}
	p := math.Pow(10, math.Floor(math.Log10(most)))
	for _, m := range []float64{10, 5, 2, 1} {
		if v := m * p; v <= most*(1+1e-9) {
			divisions = 5
			if m == 2 {
				divisions = 4
			}
			return v * one, divisions, strconv.FormatFloat(v, 'f', -1, 64) + name
		}
	}
	return 0, 0, ""
}

// GrainArrow draws a double-headed arrow of the given length about the middle at, level or, for a turned layer, upright.
func grainArrow(d *draw.Drawing, s Style, at geom.Vec2, length float64, turned bool) {
	dir := vec(1, 0)
	if turned {
		dir = vec(0, 1)
	}
	a, b := at.Sub(dir.Scale(length/2)), at.Add(dir.Scale(length/2))
	d.Segments(draw.Pen{Color: s.Ink.Ink, Width: 1}, draw.Segment{a.Add(dir.Scale(4)), b.Sub(dir.Scale(4))})
	d.Fill(geom.Region{arrowHead(a, dir.Scale(-1), 8), arrowHead(b, dir, 8)}, s.Ink.Ink)
	side := vec(dir.Y, dir.X).Scale(3.5)
	for _, k := range []float64{-1, 1} {
		m := at.Add(side.Scale(k))
		d.Segments(draw.Pen{Color: s.Ink.Grain, Width: 0.8}, draw.Segment{m.Sub(dir.Scale(length / 4)), m.Add(dir.Scale(length / 4))})
	}
}

// message writes a sentence in the middle of the sheet, in lines that fit.
func message(d *draw.Drawing, s Style, words string, area geom.Box2) {
	size := s.text() + 1
	lines := wrap(s, words, size, area.Size().X-24)
	lead := size * 1.45
	mid := area.Min.Add(area.Max).Scale(0.5)
	y := mid.Y - lead*float64(len(lines)-1)/2 + size*0.36
	for i, l := range lines {
		d.Text(draw.Text{At: vec(mid.X, y+float64(i)*lead), Words: l, Size: size, Color: s.Ink.Faint, Align: draw.Centre})
	}
}

// circle is a ring of 32 points, counter-clockwise in the sheet's numbers.
func circle(at geom.Vec2, r float64) geom.Ring {
	const n = 32
	out := make(geom.Ring, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = at.Add(vec(r*cos, r*sin))
	}
	return out
}
