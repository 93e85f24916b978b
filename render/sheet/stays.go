package sheet

import (
	"image/color"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A StaysKind says why wood stays that ought to go.
type StaysKind uint8

const (
	UnderOverhang StaysKind = iota // no cutter sees it from above or below
	InHollow                       // nor there, where nobody sees it
	OnTop                          // the finish cutter doesn't fit in from above
	OnUnderside                    // from below
)

// Stays is wood that stays in a layer.
type Stays struct {
	Kind  StaysKind
	Most  float64     // mm
	Steps []StaysStep // the least first
}

// A StaysStep is where more than From mm stay, seen from above in mm of the stand.
type StaysStep struct {
	From  float64
	Where geom.Region
}

// staysStyle is how a kind is drawn: a tone that deepens with each step, and strokes whose way tells the sides apart.
type staysStyle struct {
	words   string
	stroke  geom.Vec2 // along the strokes on the sheet; none where it is 0
	least   float64   // of the accent in the first step's tone
	further float64   // in each one after
	quiet   bool      // nobody sees it: pencil
}

func (k StaysKind) style() staysStyle {
	switch k {
	case UnderOverhang:
		return staysStyle{words: "stays under overhangs", least: 0.5, further: 0.2}
	case InHollow:
		return staysStyle{words: "in the hollow, unseen,", stroke: vec(1, -1), least: 0.16, quiet: true}
	case OnTop:
		return staysStyle{words: "on the top side", stroke: vec(1, -1), least: 0.16, further: 0.16}
	}
	return staysStyle{words: "on the underside", stroke: vec(1, 1), least: 0.16, further: 0.16}
}

// staysSpacing is the distance of those strokes, in drawing units.
const staysSpacing = 4

func (y staysStyle) tone(s Style, step int) color.RGBA {
	to := s.Ink.Accent
	if y.quiet {
		to = s.Ink.Faint
	}
	return draw.Mix(s.Ink.Wood, to, min(y.least+float64(step)*y.further, 1))
}

func (y staysStyle) pen(s Style) draw.Pen {
	if y.quiet {
		return draw.Pen{Color: s.Ink.Faint, Width: 0.6}
	}
	return draw.Pen{Color: s.Ink.Accent, Width: 0.9}
}

// stays shades where wood stays, what is worst last.
func (l LayerSheet) stays(v LayerView, s Style) {
	for i := len(v.Stays) - 1; i >= 0; i-- {
		one := v.Stays[i]
		y := one.Kind.style()
		for step, st := range one.Steps {
			r := l.onSheet(st.Where)
			l.Fill(r, y.tone(s, step))
			if step == 0 {
				defer l.strokes(s, y, r)
			}
		}
	}
}

// strokes hatch a region the way of its kind.
func (l LayerSheet) strokes(s Style, y staysStyle, r geom.Region) {
	if y.stroke == (geom.Vec2{}) {
		return
	}
	var all []draw.Segment
	for _, h := range draw.Hatch(r, y.stroke, staysSpacing, l.origin) {
		all = append(all, h.Segment)
	}
	l.Segments(y.pen(s), all...)
}

const (
	swatchWide = 13.0
	swatchTall = 9.0
)

// staysKey is the scale of the shading in the plan's upper left corner: a line for each kind, with a swatch and the figure
// from which on it is drawn for each step. Where the pane is narrow it leaves out the most.
func (l LayerSheet) staysKey(v LayerView, s Style) {
	if len(v.Stays) == 0 {
		return
	}
	lead := s.staysLead()
	at := l.Plan.Min.Add(vec(9, lead))
	for _, most := range []bool{true, false} {
		wide := 0.0
		for _, one := range v.Stays {
			wide = max(wide, l.staysLine(one, s, at, most, false))
		}
		back := box(l.Plan.Min.X+4, l.Plan.Min.Y+4, l.Plan.Min.X+14+wide, at.Y+lead*(float64(len(v.Stays))-0.55))
		if !within(back, l.Plan) {
			continue
		}
		l.Rect(back, s.Ink.Paper)
		l.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.7}, geom.Region{draw.BoxRing(back)})
		for i, one := range v.Stays {
			l.staysLine(one, s, at.Add(vec(0, float64(i)*lead)), most, true)
		}
		return
	}
}

// staysLead is the distance of its lines.
func (s Style) staysLead() float64 { return s.small() + 6 }

// staysLine writes one line of the scale, if it is to be drawn, and says how wide it is.
func (l LayerSheet) staysLine(one Stays, s Style, at geom.Vec2, most, drawn bool) (wide float64) {
	y := one.Kind.style()
	x := at.X
	write := func(words string) {
		if drawn {
			l.Text(draw.Text{At: vec(x, at.Y), Words: words, Size: s.small(), Color: s.Ink.Faint})
		}
		x += s.Letters.Width(words, s.small(), false)
	}
	write(y.words + " from")
	for step, st := range one.Steps {
		x += 5
		if drawn {
			swatch := box(x, at.Y-swatchTall+1, x+swatchWide, at.Y+1)
			l.Rect(swatch, y.tone(s, step))
			l.strokes(s, y, geom.Region{draw.BoxRing(swatch)})
		}
		x += swatchWide + 3
		write(s.figure(st.From))
	}
	if most {
		write(" to " + unit.Length(one.Most, s.Units))
	} else {
		write(" " + s.unitName())
	}
	return x - at.X
}
