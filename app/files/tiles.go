package files

import (
	"bytes"
	"fmt"
	"math"

	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

const (
	pointMM  = 25.4 / 72
	tileEdge = 12.0 // free edge of a page, mm: printers don't print to the very edge
	tileFoot = 24.0 // for the check line, the legend and the map, mm
	tileLap  = 10.0 // what neighbouring pages both show, mm
	mostTile = 400  // pages of one drawing
	hair     = 0.1
)

// A tiling is how a sheet is shared out among pages.
type tiling struct {
	sheet  export.Sheet
	w, h   float64 // of a page's picture, mm
	nx, ny int
}

// newTiling shares a sheet out among pages of a paper, upright or lying as the sheet is.
func newTiling(s export.Sheet, p book.Paper) (t tiling, pw, ph float64) {
	pw, ph = paperMM(p)
	if s.W > s.H != (pw > ph) {
		pw, ph = ph, pw
	}
	t = tiling{sheet: s, w: pw - 2*tileEdge, h: ph - 2*tileEdge - tileFoot}
	count := func(all, page float64) int { return max(1, int(math.Ceil((all-tileLap)/(page-tileLap)-1e-9))) }
	t.nx, t.ny = count(s.W, t.w), count(s.H, t.h)
	return t, pw, ph
}

// at is the upper left corner of a page's picture on the sheet.
func (t tiling) at(col, row int) geom.Vec2 {
	return geom.Vec2{X: float64(col) * (t.w - tileLap), Y: float64(row) * (t.h - tileLap)}
}

// tiles is a sheet at 1:1 on as many pages as it takes. Neighbouring pages overlap: laid with their crosses on one another they
// make the sheet. Every page has a line to check the printer with, a legend, and a map of all pages.
func tiles(b *bench, s export.Sheet) ([]byte, error) {
	t, pw, ph := newTiling(s, b.Paper)
	if t.nx*t.ny > mostTile {
		return nil, fmt.Errorf("a drawing of %.0f × %.0f mm would take %d pages", s.W, s.H, t.nx*t.ny)
	}
	pdf, err := draw.NewPDF(b.Letters, b.Fonts, s.Name)
	if err != nil {
		return nil, err
	}
	for row := range t.ny {
		for col := range t.nx {
			pdf.Page(pw, ph)
			pdf.Place(t.tile(col, row), geom.Vec2{X: tileEdge, Y: tileEdge}, 1)
			pdf.Place(t.foot(b, col, row), geom.Vec2{X: tileEdge, Y: ph - tileEdge - tileFoot}, 1)
		}
	}
	var buf bytes.Buffer
	err = pdf.Write(&buf)
	return buf.Bytes(), err
}

func paperMM(p book.Paper) (w, h float64) {
	w, h = p.Size()
	return w * pointMM, h * pointMM
}

// tile is what a page shows of the sheet.
func (t tiling) tile(col, row int) *draw.Drawing {
	ink := draw.LightInk()
	d := draw.New(t.w, t.h, ink.Paper)
	at := t.at(col, row)
	d.Clip(geom.Box2{Max: geom.Vec2{X: t.w, Y: t.h}})
	move := func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: p.X - at.X, Y: t.sheet.H - p.Y - at.Y} }
	for _, l := range t.sheet.Layers {
		pen := penOf(l, ink)
		for _, line := range l.Lines {
			d.Lines(pen, draw.Line{Points: movedPoints(line.Points, move), Closed: line.Closed})
		}
		for _, c := range l.Circles {
			d.Lines(pen, draw.Line{Points: round(move(c.At), c.Diameter/2), Closed: true})
		}
		for _, x := range l.Texts {
			const capital = 0.72
			d.Text(draw.Text{At: move(x.At), Words: x.Text, Size: x.Height / capital, Color: ink.Ink})
		}
	}
	d.Unclip()
	t.joins(d, ink, col, row)
	return d
}

// penOf is how a drawing layer is drawn on paper: what is only there for the machine is faint.
func penOf(l export.DrawingLayer, ink draw.Ink) draw.Pen {
	pen := draw.Pen{Color: ink.Ink, Width: max(l.Width, hair), Dash: l.Dash}
	if l.Name == onBoundary || l.Name == onPanel || l.Name == onDatum {
		pen.Color = ink.Faint
	}
	return pen
}

// joins are crosses in the middle of what a page has in common with its neighbours, at the same places of the sheet on both.
func (t tiling) joins(d *draw.Drawing, ink draw.Ink, col, row int) {
	const arm = tileLap / 2
	pen := draw.Pen{Color: ink.Ink, Width: hair}
	for _, x := range []struct {
		at    float64
		there bool
	}{{arm, col > 0}, {t.w - arm, col+1 < t.nx}} {
		for _, y := range []float64{arm, t.h / 2, t.h - arm} {
			if x.there {
				cross(d, pen, geom.Vec2{X: x.at, Y: y}, arm)
			}
		}
	}
	for _, y := range []struct {
		at    float64
		there bool
	}{{arm, row > 0}, {t.h - arm, row+1 < t.ny}} {
		for _, x := range []float64{arm, t.w / 2, t.w - arm} {
			if y.there {
				cross(d, pen, geom.Vec2{X: x, Y: y.at}, arm)
			}
		}
	}
}

func cross(d *draw.Drawing, pen draw.Pen, at geom.Vec2, arm float64) {
	d.Segments(pen, draw.Segment{{X: at.X - arm, Y: at.Y}, {X: at.X + arm, Y: at.Y}}, draw.Segment{{X: at.X, Y: at.Y - arm}, {X: at.X, Y: at.Y + arm}})
}

func movedPoints(points []geom.Vec2, move func(geom.Vec2) geom.Vec2) []geom.Vec2 {
	out := make([]geom.Vec2, len(points))
	for i, p := range points {
		out[i] = move(p)
	}
	return out
}

// round is a circle as a ring of corners, within a hundredth of a mm for dowels and pins.
func round(at geom.Vec2, r float64) []geom.Vec2 {
	out := make([]geom.Vec2, 64)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
		out[i] = at.Add(geom.Vec2{X: cos, Y: sin}.Scale(r))
	}
	return out
}

// checkLine is how long the line is that the printer is checked with, mm, and what is written at it.
func checkLine(u unit.System) (mm float64, words string) {
	if u == unit.Inch {
		return 4 * unit.In.MM(), "4 in: measure this line"
	}
	return 100, "100 mm: measure this line"
}

// foot is the foot of a page: which page of which drawing, the check line, the legend, and the map.
func (t tiling) foot(b *bench, col, row int) *draw.Drawing {
	const small = 2.6
	ink := draw.LightInk()
	d := draw.New(t.w, tileFoot, ink.Paper)
	words := t.sheet.Name
	mapWide := 0.0
	if t.nx*t.ny > 1 {
		words += fmt.Sprintf(" · page %d of %d · lay pages with their crosses on one another", row*t.nx+col+1, t.nx*t.ny)
		mapWide = t.chart(d, ink, col, row)
	}
	d.Text(draw.Text{At: geom.Vec2{Y: 4}, Words: words, Size: 3, Color: ink.Ink})
	long, check := checkLine(b.Units)
	pen := draw.Pen{Color: ink.Ink, Width: hair}
	d.Segments(pen, draw.Segment{{Y: 8}, {X: long, Y: 8}}, draw.Segment{{Y: 6.5}, {Y: 9.5}}, draw.Segment{{X: long, Y: 6.5}, {X: long, Y: 9.5}})
	d.Text(draw.Text{At: geom.Vec2{X: long + 3, Y: 9}, Words: check, Size: small, Color: ink.Ink})
	x, y := 0.0, 14.0
	for _, l := range t.sheet.Layers {
		if l.Name == onNames || l.Name == onDatum {
			continue
		}
		const sample, gap = 9.0, 4.0
		wide := sample + 1.5 + b.Letters.Width(l.Name, small, false)
		if x > 0 && x+wide > t.w-mapWide-gap {
			x, y = 0, y+4
		}
		legendMark(d, penOf(l, ink), l.Name, geom.Vec2{X: x + sample/2, Y: y - 0.9}, sample)
		d.Text(draw.Text{At: geom.Vec2{X: x + sample + 1.5, Y: y}, Words: l.Name, Size: small, Color: ink.Ink})
		x += wide + gap
	}
	return d
}

// legendMark is a sample of a drawing layer: a line, or the sign of a hole.
func legendMark(d *draw.Drawing, pen draw.Pen, name string, at geom.Vec2, long float64) {
	const r, arm = 1.1, 1.7
	way := geom.Vec2{X: arm}
	switch name {
	case onPinsUpper:
	case onPinsLower:
		way = geom.Vec2{X: arm, Y: arm}.Scale(math.Sqrt2 / 2)
	case onDowels:
		d.Lines(pen, draw.Line{Points: round(at, r), Closed: true})
		return
	default:
		d.Segments(pen, draw.Segment{{X: at.X - long/2, Y: at.Y}, {X: at.X + long/2, Y: at.Y}})
		return
	}
	across := geom.Vec2{X: -way.Y, Y: way.X}
	d.Lines(pen, draw.Line{Points: round(at, r), Closed: true})
	d.Segments(pen, draw.Segment{at.Sub(way), at.Add(way)}, draw.Segment{at.Sub(across), at.Add(across)})
}

// chart is the map of all pages at the right of the foot, this one dark; it gives its width.
func (t tiling) chart(d *draw.Drawing, ink draw.Ink, col, row int) (wide float64) {
	const most = tileFoot - 1
	cell := min(8, most/float64(t.ny), t.w*0.3/float64(t.nx))
	wide = cell * float64(t.nx)
	left := t.w - wide
	for r := range t.ny {
		for c := range t.nx {
			b := geom.Box2{Min: geom.Vec2{X: left + float64(c)*cell, Y: 0.5 + float64(r)*cell}}
			b.Max = b.Min.Add(geom.Vec2{X: cell, Y: cell})
			text := draw.Text{At: b.Min.Add(b.Max).Scale(0.5).Add(geom.Vec2{Y: 0.15 * cell}), Words: fmt.Sprint(r*t.nx + c + 1), Size: min(3, 0.45*cell), Color: ink.Ink, Align: draw.Centre}
			if r == row && c == col {
				d.Rect(b, ink.Ink)
				text.Color = ink.Paper
			}
			d.Outline(draw.Pen{Color: ink.Ink, Width: hair}, geom.Region{draw.BoxRing(b)})
			if cell > 3 {
				d.Text(text)
			}
		}
	}
	return wide
}
