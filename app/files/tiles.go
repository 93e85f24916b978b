package files

import (
	"bytes"
	"fmt"
	"math"

	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
)

const (
	pointMM  = 25.4 / 72
	tileEdge = 12.0 // free edge of a page, mm: printers don't print to the very edge
	tileFoot = 10.0 // for the check line, mm
	checkMM  = 100.0
	mostTile = 400 // pages of one drawing
	hair     = 0.15
)

// tiles is a sheet at 1:1 on as many pages as it takes. Neighbouring pages join at the corner marks; every page has a line of
// 100 mm to check the printer with.
func tiles(b *bench, s export.Sheet) ([]byte, error) {
	pw, ph := paperMM(b.Paper)
	if s.W > s.H != (pw > ph) {
		pw, ph = ph, pw
	}
	w, h := pw-2*tileEdge, ph-2*tileEdge-tileFoot
	nx, ny := int(math.Ceil(s.W/w-1e-9)), int(math.Ceil(s.H/h-1e-9))
	if nx*ny > mostTile {
		return nil, fmt.Errorf("a drawing of %.0f × %.0f mm would take %d pages", s.W, s.H, nx*ny)
	}
	pdf, err := draw.NewPDF(b.Letters, b.Fonts, s.Name)
	if err != nil {
		return nil, err
	}
	for row := range ny {
		for col := range nx {
			pdf.Page(pw, ph)
			at := geom.Vec2{X: float64(col) * w, Y: float64(row) * h}
			pdf.Place(tile(s, at, w, h), geom.Vec2{X: tileEdge, Y: tileEdge}, 1)
			words := s.Name
			if nx*ny > 1 {
				words = fmt.Sprintf("%s · page %d of %d: column %d of %d, row %d of %d from above", s.Name, row*nx+col+1, nx*ny, col+1, nx, row+1, ny)
			}
			pdf.Place(checkLine(words, w), geom.Vec2{X: tileEdge, Y: ph - tileEdge - tileFoot + 1}, 1)
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

// tile is what a page shows of a sheet: from at, which is measured from the sheet's upper left corner.
func tile(s export.Sheet, at geom.Vec2, w, h float64) *draw.Drawing {
	ink := draw.LightInk()
	d := draw.New(w, h, ink.Paper)
	corner := func(x, y, dx, dy float64) {
		d.Segments(draw.Pen{Color: ink.Ink, Width: hair}, draw.Segment{{X: x, Y: y}, {X: x + 5*dx, Y: y}}, draw.Segment{{X: x, Y: y}, {X: x, Y: y + 5*dy}})
	}
	corner(0, 0, 1, 1)
	corner(w, 0, -1, 1)
	corner(0, h, 1, -1)
	corner(w, h, -1, -1)
	d.Clip(geom.Box2{Max: geom.Vec2{X: w, Y: h}})
	move := func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: p.X - at.X, Y: s.H - p.Y - at.Y} }
	for _, l := range s.Layers {
		pen := draw.Pen{Color: ink.Ink, Width: hair}
		switch l.Name {
		case "carve boundary", "panel":
			pen.Color = ink.Faint
		case "core lower face", "core upper face":
			pen.Dash = []float64{3, 2}
		}
		for _, line := range l.Lines {
			d.Lines(pen, draw.Line{Points: movedPoints(line.Points, move), Closed: line.Closed})
		}
		for _, c := range l.Circles {
			d.Lines(pen, draw.Line{Points: round(move(c.At), c.Diameter/2), Closed: true})
		}
		for _, t := range l.Texts {
			const capital = 0.72
			d.Text(draw.Text{At: move(t.At), Words: t.Text, Size: t.Height / capital, Color: ink.Ink})
		}
	}
	d.Unclip()
	return d
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

// checkLine is the foot of a page.
func checkLine(words string, w float64) *draw.Drawing {
	ink := draw.LightInk()
	d := draw.New(w, tileFoot, ink.Paper)
	pen := draw.Pen{Color: ink.Ink, Width: hair}
	d.Segments(pen, draw.Segment{{Y: 3}, {X: checkMM, Y: 3}}, draw.Segment{{Y: 1.5}, {Y: 4.5}}, draw.Segment{{X: checkMM, Y: 1.5}, {X: checkMM, Y: 4.5}})
	d.Text(draw.Text{At: geom.Vec2{X: checkMM + 3, Y: 4}, Words: "100 mm: measure this line", Size: 3, Color: ink.Ink})
	d.Text(draw.Text{At: geom.Vec2{Y: 8.5}, Words: words, Size: 3, Color: ink.Faint})
	return d
}
