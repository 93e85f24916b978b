package sheet

import (
	"slices"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A layout is how a layer sheet shares out its pane: title, plan, foot (scale bar, legend, grain arrow), notes.
type layout struct {
	pad      float64
	plan     geom.Box2 // framed part that the plan is clipped to
	room     geom.Box2 // part of it that the outline fits at zoom 1; dimensions go round it
	foot     geom.Box2
	notes    []string
	notesTop float64
	keys     int // lines of the legend
}

// withoutSizes gives the room of sizes to the plan.
func (f layout) withoutSizes() layout {
	const air = 4
	f.room = box(f.plan.Min.X+air, f.plan.Min.Y+air, f.plan.Max.X-air, f.plan.Max.Y-air)
	return f
}

// layOut shares out a sheet of w × h; keys are those of its legend, which has as many lines as the sheet's height allows.
func layOut(v LayerView, s Style, w, h float64, keys ...key) layout {
	f := layout{pad: clamp(min(w, h)*0.02, 4, 10)}
	top, bottom := f.pad, h-f.pad
	if !s.Bare {
		top += s.text() + 9
		for _, n := range v.Notes {
			f.notes = append(f.notes, wrap(s, n, s.text(), w-2*f.pad-4)...)
		}
		if most := int(h * 0.25 / (s.text() * 1.4)); len(f.notes) > most {
			f.notes = f.notes[:most]
		}
		bottom -= float64(len(f.notes)) * s.text() * 1.4
		f.notesTop = bottom
	}
	if v.Message != "" {
		f.plan = box(f.pad, top, w-f.pad, bottom)
		return f
	}
	tall := 26.0
	if h > keysFrom {
		f.keys = min(keyLines(keys, s, w-2*f.pad-4), int((h-keysFrom)/keysEach)+1)
		tall += float64(f.keys)*s.keyLead() + 3
	}
	f.foot = box(f.pad, bottom-tall-4, w-f.pad, bottom-4)
	f.plan = box(f.pad, top, w-f.pad, f.foot.Min.Y-4)
	air := clamp(min(w, h)*0.03, 8, 24)
	dim := s.small() + 16
	f.room = box(f.plan.Min.X+dim+air*0.6, f.plan.Min.Y+air, f.plan.Max.X-air, f.plan.Max.Y-dim-air*0.4)
	if key := float64(len(v.Stays)) * s.staysLead(); key < f.room.Size().Y/3 { // else it lies over the plan
		f.room.Min.Y += key
	}
	f.room.Max.X = max(f.room.Max.X, f.room.Min.X+1)
	f.room.Max.Y = max(f.room.Max.Y, f.room.Min.Y+1)
	return f
}

// frame is the hair line round the plan, with a tick on each side where the stack axis lies.
func frame(l LayerSheet, s Style, f layout) {
	p := f.plan
	l.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.8}, geom.Region{draw.BoxRing(p)})
	if l.PerMM == 0 {
		return
	}
	pen := draw.Pen{Color: s.Ink.Ink, Width: 1}
	if o := l.origin; o.X > p.Min.X && o.X < p.Max.X {
		l.Segments(pen, draw.Segment{vec(o.X, p.Min.Y), vec(o.X, p.Min.Y+5)}, draw.Segment{vec(o.X, p.Max.Y-5), vec(o.X, p.Max.Y)})
	}
	if o := l.origin; o.Y > p.Min.Y && o.Y < p.Max.Y {
		l.Segments(pen, draw.Segment{vec(p.Min.X, o.Y), vec(p.Min.X+5, o.Y)}, draw.Segment{vec(p.Max.X-5, o.Y), vec(p.Max.X, o.Y)})
	}
}

// foot has the scale bar on the left, the grain arrow on the right, and the legend above them where there is room.
func (l LayerSheet) foot(v LayerView, s Style, f layout) {
	base := f.foot.Max.Y - 4
	wide := f.foot.Size().X
	ScaleBar(l.Drawing, s, vec(f.foot.Min.X+4, base), min(wide*0.32, 150), l.PerMM)
	const arrow = 28
	at := vec(f.foot.Max.X-arrow/2-3, base-arrow/2+5)
	grainArrow(l.Drawing, s, at, arrow, v.Turned)
	words := "grain, this layer"
	if s.Letters.Width(words, s.small(), false) > wide*0.5-arrow-20 {
		words = fitted(s, "grain", s.small(), false, wide*0.5-arrow-20)
	}
	l.Text(draw.Text{At: vec(at.X-arrow/2-6, at.Y+s.small()*0.36), Words: words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Right})
	drawKeys(l.Drawing, l.keys(v, s), s, f)
}

// A sheet higher than keysFrom has a line for the legend, and another one for each keysEach more.
const (
	keysFrom = 390
	keysEach = 45
)

// keys are the legend of a plan.
func (l LayerSheet) keys(v LayerView, s Style) []key {
	pins := func(lower bool) bool { return hasPeg(v.Pins, lower) }
	return []key{
		lineKey("widest", s.heavy(), len(v.Widest) > 0),
		lineKey("lower face", s.dashed(), len(v.BottomOutline) > 0),
		lineKey("upper face", s.dotted(), len(v.TopOutline) > 0),
		lineKey("core", s.core(), len(v.Core) > 0),
		lineKey("layer below", s.ghost(), len(v.Below) > 0),
		pegKey("pin, upper face", s, 3, false, pins(false)),
		pegKey("pin, lower face", s, 3, true, pins(true)),
	}
}

func hasPeg(pegs []Peg, lower bool) bool {
	return slices.ContainsFunc(pegs, func(g Peg) bool { return g.Lower == lower })
}
