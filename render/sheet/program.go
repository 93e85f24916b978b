package sheet

import (
	"image/color"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A ProgramView is what the sheet of programs shows of a panel in one moment, mm as the panel lies with the side up that is carved.
type ProgramView struct {
	Size         geom.Vec2
	Cutter       CutterMark
	Gone, Coming []Stroke
	Dowels       []Peg
	Clamps       []PanelClamp // of this side
	Faults       []FaultMark
	Message      string // stands in the middle instead of a panel: why there is none
}

// A CutterMark is the cutter as it is seen from above.
type CutterMark struct {
	At       geom.Vec2
	Diameter float64
	Rapid    bool // it moves as fast as the machine can, and cuts nothing
}

// A Stroke is a stretch of the cutter's way.
type Stroke struct {
	From, To geom.Vec2
	Rapid    bool
}

// A FaultMark is where a program would spoil the panel.
type FaultMark struct {
	At     geom.Vec2
	Number int
	Picked bool
}

// A ProgramSheet is its drawing; X right, Y down in drawing units. The wood itself is no part of it: it belongs under the drawing,
// over the whole of Plan.
type ProgramSheet struct {
	*draw.Drawing
	Plan  geom.Box2 // the part of the sheet that the panel has
	PerMM float64   // drawing units a millimetre, 0 if there is no panel
	lay   LayerSheet
}

// ToMM is the place of the panel, mm as it lies, at x, y of the sheet; ok is false where no panel is drawn.
func (p ProgramSheet) ToMM(x, y float64) (geom.Vec2, bool) { return p.lay.ToMM(x, y) }

// ToSheet is where a place of the panel lies on the sheet.
func (p ProgramSheet) ToSheet(v geom.Vec2) geom.Vec2 { return p.lay.ToSheet(v) }

// Bed is the colour of what a panel lies on.
func (s Style) Bed() color.RGBA { return draw.Mix(s.Ink.Paper, s.Ink.Ink, 0.22) }

// Program draws what stands over a panel's wood, w × h drawing units. What lies on wood is drawn in the ink of light sheets: wood is
// as light on a dark one.
func Program(v ProgramView, s Style, w, h float64, look Look) ProgramSheet {
	d := draw.New(w, h, s.Ink.Paper)
	p := ProgramSheet{Drawing: d, lay: LayerSheet{Drawing: d}}
	keys := programKeys(v, s)
	f := layOut(LayerView{Message: v.Message}, s, w, h, keys...)
	f = f.withoutSizes()
	p.Plan, p.lay.Plan = f.plan, f.plan
	if v.Message != "" {
		message(d, s, v.Message, f.plan)
		d.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.8}, geom.Region{draw.BoxRing(f.plan)})
		return p
	}
	p.lay.fit(LayerView{Widest: geom.Region{draw.BoxRing(geom.Box2{Max: v.Size})}}, f, look)
	p.PerMM = p.lay.PerMM
	on := s
	on.Ink = draw.LightInk()
	d.Clip(f.plan)
	d.Outline(on.heavy(), p.lay.onSheet(geom.Region{draw.BoxRing(geom.Box2{Max: v.Size})}))
	held := PanelSheet{Drawing: d, lay: p.lay, Plan: f.plan, PerMM: p.PerMM}
	for _, c := range v.Clamps {
		held.clamp(on, c)
	}
	for _, g := range v.Dowels {
		held.peg(on, g, 2.5)
	}
	p.strokes(on, v.Coming, on.coming())
	p.strokes(on, v.Gone, on.cuts())
	p.cutter(on, v.Cutter)
	p.faults(on, v.Faults)
	d.Unclip()
	d.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.8}, geom.Region{draw.BoxRing(f.plan)})
	ScaleBar(d, s, vec(f.foot.Min.X+4, f.foot.Max.Y-4), min(f.foot.Size().X*0.32, 150), p.PerMM)
	drawKeys(d, keys, s, f)
	return p
}

func programKeys(v ProgramView, s Style) []key {
	return []key{
		lineKey("cuts", s.cuts(), len(v.Gone) > 0),
		lineKey("comes next", s.coming(), len(v.Coming) > 0),
		lineKey("fast, in the air", s.fast(s.cuts()), len(v.Gone)+len(v.Coming) > 0),
		{"fault", func(d *draw.Drawing, at geom.Vec2) {
			d.Outline(draw.Pen{Color: s.Ink.Accent, Width: 1.6}, geom.Region{circle(at, 4)})
		}, len(v.Faults) > 0},
	}
}

func (s Style) cuts() draw.Pen   { return draw.Pen{Color: s.Ink.Ink, Width: 1.5} }
func (s Style) coming() draw.Pen { return draw.Pen{Color: s.Ink.Faint, Width: 0.7} }

// fast is a pen for what the cutter does in the air.
func (s Style) fast(p draw.Pen) draw.Pen {
	p.Dash, p.Width = []float64{5, 4}, max(0.9, p.Width*0.7)
	return p
}

// strokes are stretches of the way, those that follow each other in one line.
func (p ProgramSheet) strokes(s Style, all []Stroke, cut draw.Pen) {
	var lines [2][]draw.Line
	for i, one := range all {
		kind := 0
		if one.Rapid {
			kind = 1
		}
		if i == 0 || all[i-1].Rapid != one.Rapid {
			lines[kind] = append(lines[kind], draw.Line{Points: []geom.Vec2{p.ToSheet(one.From)}})
		}
		last := &lines[kind][len(lines[kind])-1]
		last.Points = append(last.Points, p.ToSheet(one.To))
	}
	p.Lines(cut, lines[0]...)
	p.Lines(s.fast(cut), lines[1]...)
}

// cutter is its outline at true size with a cross in its middle, dashed while it cuts nothing.
func (p ProgramSheet) cutter(s Style, c CutterMark) {
	if !(c.Diameter > 0) {
		return
	}
	at := p.ToSheet(c.At)
	ring := geom.Region{circle(at, max(c.Diameter/2*p.PerMM, 1.5))}
	pen := draw.Pen{Color: s.Ink.Ink, Width: 1.6}
	p.Outline(draw.Pen{Color: s.Ink.Paper, Width: 3.4}, ring)
	if c.Rapid {
		pen.Dash = []float64{3, 2.5}
	}
	p.Outline(pen, ring)
	arm := max(c.Diameter/2*p.PerMM, 1.5) + 6
	for _, way := range []geom.Vec2{vec(arm, 0), vec(-arm, 0), vec(0, arm), vec(0, -arm)} {
		a, b := at.Add(way.Scale((arm-6)/arm)), at.Add(way)
		p.Segments(draw.Pen{Color: s.Ink.Paper, Width: 3}, draw.Segment{a, b})
		p.Segments(draw.Pen{Color: s.Ink.Ink, Width: 1.2}, draw.Segment{a, b})
	}
}

// A fault's ring and the circle that its number stands in, drawing units.
const faultRing, faultRound = 6.0, 7.5

// faultTag leads from the one to the other.
func faultTag() geom.Vec2 { return geom.Vec2{X: 13, Y: -13} }

// FromFault is how far a place of the sheet is from the middle of a fault's ring, or of its number where that is nearer, drawing
// units.
func (p ProgramSheet) FromFault(f FaultMark, x, y float64) float64 {
	off := geom.Vec2{X: x, Y: y}.Sub(p.ToSheet(f.At))
	return min(off.Len(), off.Sub(faultTag()).Len())
}

// faults are rings with their numbers; that of the picked one is filled.
func (p ProgramSheet) faults(s Style, all []FaultMark) {
	for _, one := range all {
		at := p.ToSheet(one.At)
		p.Outline(draw.Pen{Color: s.Ink.Paper, Width: 4}, geom.Region{circle(at, faultRing)})
		p.Outline(draw.Pen{Color: s.Ink.Accent, Width: 2}, geom.Region{circle(at, faultRing)})
		tag := at.Add(faultTag())
		ground, ink := s.Ink.Paper, s.Ink.Accent
		if one.Picked {
			ground, ink = ink, ground
		}
		p.Segments(draw.Pen{Color: s.Ink.Accent, Width: 1.2}, draw.Segment{at.Add(vec(4.3, -4.3)), tag})
		p.Fill(geom.Region{circle(tag, faultRound)}, ground)
		p.Outline(draw.Pen{Color: s.Ink.Accent, Width: 1.2}, geom.Region{circle(tag, faultRound)})
		p.Text(draw.Text{At: tag.Add(vec(0, s.small()*0.36)), Words: strconv.Itoa(one.Number), Size: s.small(), Bold: true, Color: ink, Align: draw.Centre})
	}
}
