package sheet

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A LayerView is what a layer sheet shows, in millimetres of the stand seen from above. What is empty is left out.
type LayerView struct {
	Number, Count int     // this layer of so many, from 1
	Bottom, Top   float64 // heights of its wood above the floor
	Turned        bool    // its panel lies turned by 90°: the grain runs along Y instead of X

	Widest, BottomOutline, TopOutline geom.Region // sections at the widest height, at the lower and at the upper face
	Core                              geom.Region // the hollow where Widest is taken
	Below                             geom.Region // ghost of the layer below, on request

	Parts []geom.Box2    // numbered if there are several
	Pins  []Peg          // alignment pins
	Seams [][2]geom.Vec2 // joint lines that parts are split along, by two points of each
	Marks []geom.Vec2    // places that need a look
	Stays []Stays        // wood that the cutters leave, on request
	Panel geom.Box2      // the panel's edge, on request: drawn if it has a size
	Fit   geom.Box2      // what fits the pane at zoom 1; without a size, the layer's own outlines

	Notes   []string
	Message string // stands in the middle instead of a plan: why there is none
}

// A Look is how near and from where the plan is seen. The zero Look fits the plan to the pane.
type Look struct {
	Zoom       float64 // 1 fits; 0 means 1
	PanX, PanY float64 // drawing units that the plan is moved right and down
}

// A LayerSheet is a layer's drawing; X right, Y down in drawing units.
type LayerSheet struct {
	*draw.Drawing
	Plan    geom.Box2 // the part of the sheet that the plan has
	PerMM   float64   // drawing units a millimetre, 0 if there is no plan
	origin  geom.Vec2 // where 0, 0 of the stand lies on the sheet
	visible geom.Box2 // the outlines' extent in mm
	outer   geom.Box2 // the same with the ghost of the layer below
}

// ToMM is the place in the stand, mm, that lies at x, y of the sheet; ok is false where no plan is drawn.
func (l LayerSheet) ToMM(x, y float64) (p geom.Vec2, ok bool) {
	in := x >= l.Plan.Min.X && x <= l.Plan.Max.X && y >= l.Plan.Min.Y && y <= l.Plan.Max.Y
	if l.PerMM == 0 || !in {
		return p, false
	}
	return vec((x-l.origin.X)/l.PerMM, (l.origin.Y-y)/l.PerMM), true
}

// ToSheet is where a place in the stand lies on the sheet.
func (l LayerSheet) ToSheet(p geom.Vec2) geom.Vec2 {
	return vec(l.origin.X+p.X*l.PerMM, l.origin.Y-p.Y*l.PerMM)
}

// Layer draws a layer sheet of w × h drawing units.
func Layer(v LayerView, s Style, w, h float64, look Look) LayerSheet {
	d := draw.New(w, h, s.Ink.Paper)
	l := LayerSheet{Drawing: d}
	f := layOut(v, s, w, h, l.keys(v, s)...)
	l.Plan = f.plan
	if !s.Bare {
		if v.Count > 0 {
			title(d, s, v, f)
		}
		notes(d, s, f)
	}
	if v.Message == "" && len(v.Widest)+len(v.BottomOutline)+len(v.TopOutline) == 0 {
		v.Message = "Nothing of the piece lies in this layer."
	}
	if v.Message != "" {
		message(d, s, v.Message, f.plan)
		frame(l, s, f)
		return l
	}
	l.fit(v, f, look)
	d.Clip(f.plan)
	l.wood(v, s)
	l.stays(v, s)
	l.outlines(v, s)
	l.axes(s)
	taken := l.sizes(s, f)
	l.seams(v, s)
	l.places(v, s)
	l.numbers(v, s, taken)
	l.staysKey(v, s)
	d.Unclip()
	frame(l, s, f)
	l.foot(v, s, f)
	return l
}

// fit sets scale and origin.
func (l *LayerSheet) fit(v LayerView, f layout, look Look) {
	l.visible = v.Widest.Box().Union(v.BottomOutline.Box()).Union(v.TopOutline.Box())
	l.outer = l.visible.Union(v.Below.Box())
	all := v.Fit
	if sz := all.Size(); sz.X <= 0 && sz.Y <= 0 {
		all = l.outer
		if p := v.Panel.Size(); p.X > 0 && p.Y > 0 {
			all = all.Union(v.Panel)
		}
	}
	size, room := all.Size(), f.room.Size()
	zoom := look.Zoom
	if zoom <= 0 {
		zoom = 1
	}
	l.PerMM = zoom * min(room.X/max(size.X, 1e-3), room.Y/max(size.Y, 1e-3))
	mid, to := all.Min.Add(all.Max).Scale(0.5), f.room.Min.Add(f.room.Max).Scale(0.5)
	l.origin = vec(to.X+look.PanX-mid.X*l.PerMM, to.Y+look.PanY+mid.Y*l.PerMM)
}

// onSheet carries a region to the sheet, where Y runs down: every ring is reversed so that outlines stay positive.
func (l LayerSheet) onSheet(r geom.Region) geom.Region { return r.Mirror(l.ToSheet) }

// seams are joint lines, drawn on to the frame, with a handle at each of their points.
func (l LayerSheet) seams(v LayerView, s Style) {
	pen := draw.Pen{Color: s.Ink.Ink, Width: 1.8, Dash: []float64{10, 3, 2, 3}}
	for _, seam := range v.Seams {
		a, b := l.ToSheet(seam[0]), l.ToSheet(seam[1])
		way := b.Sub(a)
		if way.Len() == 0 {
			continue
		}
		far := way.Scale((l.W + l.H) / way.Len())
		l.Segments(pen, draw.Segment{a.Sub(far), b.Add(far)})
		for _, p := range []geom.Vec2{a, b} {
			l.Fill(geom.Region{circle(p, 5)}, s.Ink.Paper)
			l.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.6}, geom.Region{circle(p, 5)})
		}
	}
}

// title is the top line: which layer, from where to where.
func title(d *draw.Drawing, s Style, v LayerView, f layout) {
	size := s.text() + 1
	head := fmt.Sprintf("Layer %d of %d", v.Number, v.Count)
	at := vec(f.pad+2, f.pad+size)
	d.Text(draw.Text{At: at, Words: head, Size: size, Bold: true, Color: s.Ink.Ink})
	rest := fmt.Sprintf("%s to %s", s.figure(v.Bottom), unit.Length(v.Top, s.Units))
	if v.Turned {
		rest += " · turned 90°"
	}
	x := at.X + s.Letters.Width(head, size, true) + 10
	rest = fitted(s, rest, s.text(), false, d.W-f.pad-x)
	d.Text(draw.Text{At: vec(x, at.Y), Words: rest, Size: s.text(), Color: s.Ink.Faint})
}

// notes are the lines at the foot.
func notes(d *draw.Drawing, s Style, f layout) {
	for i, line := range f.notes {
		d.Text(draw.Text{At: vec(f.pad+2, f.notesTop+float64(i+1)*s.text()*1.4), Words: line, Size: s.text(), Color: s.Ink.Faint})
	}
}
