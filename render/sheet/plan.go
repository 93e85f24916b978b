package sheet

import (
	"slices"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// grainSpacing is the distance of grain lines on the sheet, in drawing units.
const grainSpacing = 3.5

func (s Style) heavy() draw.Pen { return draw.Pen{Color: s.Ink.Ink, Width: 1.8} }
func (s Style) core() draw.Pen  { return draw.Pen{Color: s.Ink.Ink, Width: 0.9} }
func (s Style) dashed() draw.Pen {
	return draw.Pen{Color: s.Ink.Ink, Width: 0.9, Dash: []float64{6, 3.5}}
}
func (s Style) dotted() draw.Pen {
	return draw.Pen{Color: s.Ink.Ink, Width: 1.4, Dash: []float64{0, 3.2}}
}
func (s Style) ghost() draw.Pen {
	return draw.Pen{Color: draw.Mix(s.Ink.Paper, s.Ink.Faint, 0.6), Width: 0.8}
}
func (s Style) chain() draw.Pen {
	return draw.Pen{Color: draw.Mix(s.Ink.Rule, s.Ink.Faint, 0.5), Width: 0.7, Dash: []float64{14, 3, 2.5, 3}}
}

// wood lays the rim down: a quiet fill and grain lines in the layer's own direction.
func (l LayerSheet) wood(v LayerView, s Style) {
	rim := l.onSheet(v.Widest)
	core := l.onSheet(v.Core)
	l.Fill(rim, s.Ink.Wood)
	l.Fill(core, s.Ink.Paper)
	l.grain(v, s, rimRegion(rim, core))
}

// rimRegion is outline less core: the core's rings run the other way.
func rimRegion(rim, core geom.Region) geom.Region {
	out := append(make(geom.Region, 0, len(rim)+len(core)), rim...)
	for _, r := range core {
		back := make(geom.Ring, len(r))
		for i, p := range r {
			back[len(r)-1-i] = p
		}
		out = append(out, back)
	}
	return out
}

// grain hatches a region of the sheet. Lines are evenly spaced but unevenly strong, as growth rings are.
func (l LayerSheet) grain(v LayerView, s Style, r geom.Region) {
	along := vec(1, 0)
	if v.Turned {
		along = vec(0, 1)
	}
	var kinds [3][]draw.Segment
	for _, h := range draw.Hatch(r, along, grainSpacing, l.origin) {
		k := strength(h.Row)
		kinds[k] = append(kinds[k], h.Segment)
	}
	for k, segs := range kinds {
		c := draw.Mix(s.Ink.Wood, s.Ink.Grain, 0.5+0.25*float64(k))
		l.Segments(draw.Pen{Color: c, Width: 0.55 + 0.25*float64(k)}, segs...)
	}
}

// strength scatters three strengths over the rows without a pattern that the eye finds (multiplicative hashing, Knuth,
// The Art of Computer Programming 3, 6.4).
func strength(row int) int { return int(uint32(row) * 2654435761 >> 16 % 3) }

func (l LayerSheet) outlines(v LayerView, s Style) {
	if p := v.Panel.Size(); p.X > 0 && p.Y > 0 {
		l.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.8, Dash: []float64{10, 4}}, l.onSheet(geom.Region{draw.BoxRing(v.Panel)}))
	}
	l.Outline(s.ghost(), l.onSheet(v.Below))
	l.Outline(s.core(), l.onSheet(v.Core))
	l.Outline(s.dotted(), l.onSheet(v.TopOutline))
	l.Outline(s.dashed(), l.onSheet(v.BottomOutline))
	l.Outline(s.heavy(), l.onSheet(v.Widest))
}

// axes are chain lines through the stack axis, a little beyond the outlines.
func (l LayerSheet) axes(s Style) {
	a, b := l.ToSheet(l.visible.Min), l.ToSheet(l.visible.Max)
	o := l.origin
	const over = 7
	l.Segments(s.chain(),
		draw.Segment{vec(min(a.X, o.X)-over, o.Y), vec(max(b.X, o.X)+over, o.Y)},
		draw.Segment{vec(o.X, max(a.Y, o.Y)+over), vec(o.X, min(b.Y, o.Y)-over)})
}

// sizes are the extents of the outlines: width below, depth on the left. They stay in the plan's margin when it is moved. It
// gives the boxes of their words.
func (l LayerSheet) sizes(s Style, f layout) (taken []geom.Box2) {
	a, b := l.ToSheet(l.visible.Min), l.ToSheet(l.visible.Max)
	clear := l.ToSheet(l.outer.Min)
	size := l.visible.Size()
	const gap = 12.0
	y := min(clear.Y+gap, f.plan.Max.Y-s.small()-6)
	if a.X >= f.plan.Min.X && b.X <= f.plan.Max.X && a.Y < y && b.Y < f.plan.Max.Y {
		taken = append(taken, dimension(l.Drawing, s, vec(a.X, y), vec(b.X, y), [2]geom.Vec2{vec(a.X, a.Y), vec(b.X, a.Y)}, unit.Length(size.X, s.Units), f.plan))
	}
	x := max(clear.X-gap, f.plan.Min.X+s.small()+8)
	if b.Y >= f.plan.Min.Y && a.Y <= f.plan.Max.Y && a.X > x && a.X < f.plan.Max.X {
		taken = append(taken, dimension(l.Drawing, s, vec(x, a.Y), vec(x, b.Y), [2]geom.Vec2{vec(a.X, a.Y), vec(a.X, b.Y)}, unit.Length(size.Y, s.Units), f.plan))
	}
	return taken
}

// places are pins and marks.
func (l LayerSheet) places(v LayerView, s Style) {
	for _, p := range v.Pins {
		l.cross(l.ToSheet(p.At), 4, p.Lower, draw.Pen{Color: s.Ink.Ink, Width: 1})
	}
	for _, p := range v.Marks {
		l.cross(l.ToSheet(p), 6, false, draw.Pen{Color: s.Ink.Accent, Width: 1.5})
	}
}

// numbers are those of the parts, if there are several: in a disc in the middle of a part, or beside it where that would hide
// it or something else.
func (l LayerSheet) numbers(v LayerView, s Style, taken []geom.Box2) {
	if len(v.Parts) < 2 {
		return
	}
	parts := make([]geom.Box2, len(v.Parts))
	for i, b := range v.Parts {
		parts[i] = l.boxOnSheet(b)
	}
	all := &tags{Drawing: l.Drawing, style: s, room: l.Plan, taken: taken, covers: func(b geom.Box2) bool {
		return slices.ContainsFunc(parts, func(o geom.Box2) bool { return overlap(o, b) })
	}}
	var rest []int
	for i, b := range parts {
		t := draw.Text{Words: strconv.Itoa(i + 1), Size: s.text(), Bold: true, Color: s.Ink.Ink, Align: draw.Centre}
		r := max(s.text()*0.8, s.Letters.Width(t.Words, t.Size, true)/2+4)
		at := b.Min.Add(b.Max).Scale(0.5)
		around := box(at.X-r, at.Y-r, at.X+r, at.Y+r)
		if size := b.Size(); min(size.X, size.Y) < 3.2*r || !all.free(around) {
			rest = append(rest, i)
			continue
		}
		all.taken = append(all.taken, around)
		t.At = vec(at.X, at.Y+s.text()*0.36)
		disc := geom.Region{circle(at, r)}
		l.Fill(disc, s.Ink.Paper)
		l.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.8}, disc)
		l.Text(t)
	}
	for _, i := range rest {
		if b := parts[i]; overlap(b, l.Plan) {
			all.beside(b, strconv.Itoa(i+1))
		}
	}
}

// boxOnSheet is a box of the stand on the sheet.
func (l LayerSheet) boxOnSheet(b geom.Box2) geom.Box2 {
	p, q := l.ToSheet(b.Min), l.ToSheet(b.Max)
	return box(p.X, q.Y, q.X, p.Y)
}

// cross is a ring with a cross, upright or slanting.
func (l LayerSheet) cross(at geom.Vec2, r float64, slanting bool, p draw.Pen) {
	l.Outline(p, geom.Region{circle(at, r)})
	l.Segments(p, pegCross(at, r+3, slanting)...)
}
