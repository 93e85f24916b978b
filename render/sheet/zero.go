package sheet

import (
	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A ZeroView is where the programs of a panel have their zeros.
type ZeroView struct {
	PanelX, PanelY, Board float64      // mm; the board as it lies
	Dowels                [2]geom.Vec2 // as side A lies
	Origin                geom.Vec2    // X0 Y0
	Height                stock.Height
	Safe                  float64 // height of rapids above the face that lies up, mm
}

// Zero draws on w × h drawing units the panel from above with X0 Y0 and its axes, and beside it the board on the bed with Z0. The
// section is not to scale.
func Zero(v ZeroView, s Style, w, h float64) *draw.Drawing {
	d := draw.New(w, h, s.Ink.Paper)
	lead := s.small() * 1.5
	v.above(d, s, box(lead, lead, w*0.5, h-2*lead))
	v.section(d, s, box(w*0.56, lead, w-4, h-2*lead))
	for x, words := range map[float64]string{lead: "the panel as it lies, side A up, from above", w * 0.56: "the board on the bed from the front, not to scale"} {
		d.Text(draw.Text{At: vec(x, h-4), Words: words, Size: s.small(), Color: s.Ink.Faint})
	}
	return d
}

// above is the panel from above.
func (v ZeroView) above(d *draw.Drawing, s Style, room geom.Box2) {
	size := room.Size()
	if !(v.PanelX > 0 && v.PanelY > 0) {
		return
	}
	per := min((size.X-10)/v.PanelX, (size.Y-16)/v.PanelY)
	on := func(p geom.Vec2) geom.Vec2 { return vec(room.Min.X+p.X*per, room.Max.Y-8-p.Y*per) }
	board := geom.Region{draw.BoxRing(geom.EmptyBox2().Add(on(geom.Vec2{})).Add(on(geom.Vec2{X: v.PanelX, Y: v.PanelY})))}
	d.Fill(board, draw.Mix(s.Ink.Paper, s.Ink.Wood, 0.4))
	d.Outline(s.heavy(), board)
	for _, at := range v.Dowels {
		d.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.9}, geom.Region{circle(on(at), 4)})
	}
	zero := on(v.Origin)
	v.arrow(d, s, zero, vec(1, 0), min(60, size.X/3), "X")
	v.arrow(d, s, zero, vec(0, -1), min(60, size.Y/3), "Y")
	v.mark(d, s, zero, "X0 Y0", vec(8, -8))
}

// section is the board on the bed, with the cutter at the safe height.
func (v ZeroView) section(d *draw.Drawing, s Style, room geom.Box2) {
	size := room.Size()
	bed, face := room.Max.Y-size.Y*0.22, room.Max.Y-size.Y*0.48
	left, right := room.Min.X+size.X*0.12, room.Min.X+size.X*0.78
	part := func(b geom.Box2, words string, tone float64) {
		ring := geom.Region{draw.BoxRing(b)}
		d.Fill(ring, draw.Mix(s.Ink.Paper, s.Ink.Wood, tone))
		d.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.9}, ring)
		d.Text(draw.Text{At: vec(b.Min.X+6, (b.Min.Y+b.Max.Y)/2+s.small()*0.35), Words: words, Size: s.small(), Color: s.Ink.Ink})
	}
	part(box(room.Min.X, bed, room.Max.X, room.Max.Y), "", 0.15)
	d.Text(draw.Text{At: vec(room.Max.X-6, room.Max.Y-6), Words: "bed", Size: s.small(), Color: s.Ink.Ink, Align: draw.Right})
	part(box(left, face, right, bed), "board, "+unit.Length(v.Board, s.Units), 0.4)
	safe := face - size.Y*0.16
	middle := right - size.X*0.14
	cutter := geom.Region{draw.BoxRing(box(middle-6, room.Min.Y, middle+6, safe))}
	d.Fill(cutter, s.Ink.Rule)
	d.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.9}, cutter)
	dimension(d, s, vec(middle+20, safe), vec(middle+20, face), [2]geom.Vec2{vec(middle+6, safe), vec(middle+6, face)}, "", room)
	d.Text(draw.Text{At: vec(middle+26, (safe+face)/2+s.small()*0.35), Words: "rapids " + unit.Length(v.Safe, s.Units), Size: s.small(), Color: s.Ink.Faint})
	zero, words, off := vec(left, face), "Z0 on the face that lies up", vec(10, -8)
	if v.Height == stock.OnBed {
		zero, words, off = vec(left-8, bed), "Z0 on the bed", vec(0, s.small()+4)
	}
	v.arrow(d, s, zero, vec(0, -1), size.Y*0.3, "Z")
	v.mark(d, s, zero, words, off)
}

// arrow is an axis from a place on, with its letter at its end.
func (ZeroView) arrow(d *draw.Drawing, s Style, from, way geom.Vec2, length float64, letter string) {
	tip := from.Add(way.Scale(length))
	d.Segments(draw.Pen{Color: s.Ink.Accent, Width: 1.4}, draw.Segment{from, tip})
	d.Fill(geom.Region{arrowHead(tip, way, 8)}, s.Ink.Accent)
	at := tip.Add(way.Scale(9)).Add(vec(0, s.small()*0.35))
	d.Text(draw.Text{At: at, Words: letter, Size: s.text(), Bold: true, Color: s.Ink.Accent, Align: draw.Centre})
}

// mark is a zero with its words beside it.
func (ZeroView) mark(d *draw.Drawing, s Style, at geom.Vec2, words string, off geom.Vec2) {
	d.Fill(geom.Region{circle(at, 3.5)}, s.Ink.Accent)
	d.Text(draw.Text{At: at.Add(off), Words: words, Size: s.small(), Bold: true, Color: s.Ink.Ink})
}
