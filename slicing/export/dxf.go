package export

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"grainstack/slicing/geom"
)

// unitNote is said in the drawing itself, since Release 12 has no word for units.
const unitNote = "All lengths in mm"

// blackOrWhite is the colour that is drawn black on white and white on black.
const blackOrWhite = 7

// WriteDXF writes a sheet as DXF Release 12 in ASCII, one unit a mm: lines as POLYLINE, circles, texts, each on a layer of
// the sheet, and a note on the layer NOTE that lengths are in mm. Layers' names are in capitals, as the release wants them.
func WriteDXF(w io.Writer, s Sheet) error {
	if err := s.check(); err != nil {
		return err
	}
	d := dxf{bufio.NewWriterSize(w, 1<<16)}
	s.Layers = append(s.Layers[:len(s.Layers):len(s.Layers)], DrawingLayer{
		Name: "NOTE", Texts: []Text{{At: geom.Vec2{X: 2, Y: 2}, Height: 3, Text: unitNote}},
	})
	names := s.plainNames(true)
	d.head(&s)
	d.tables(names, s.Layers)
	d.pair(0, "SECTION")
	d.pair(2, "ENTITIES")
	for i, name := range names {
		d.layer(name, &s.Layers[i])
	}
	d.pair(0, "ENDSEC")
	d.pair(0, "EOF")
	return d.out.Flush() // a bufio.Writer keeps its first error
}

// dxf writes pairs of a group code and a value, a line each.
type dxf struct{ out *bufio.Writer }

func (d dxf) pair(code int, value string) { fmt.Fprintf(d.out, "%3d\r\n%s\r\n", code, value) }

func (d dxf) point(code int, p geom.Vec2) {
	d.pair(code, mm(p.X))
	d.pair(code+10, mm(p.Y))
	d.pair(code+20, "0")
}

func (d dxf) head(s *Sheet) {
	d.pair(999, "Grainstack. "+unitNote)
	d.pair(0, "SECTION")
	d.pair(2, "HEADER")
	d.pair(9, "$ACADVER")
	d.pair(1, "AC1009")
	d.pair(9, "$EXTMIN")
	d.point(10, geom.Vec2{})
	d.pair(9, "$EXTMAX")
	d.point(10, geom.Vec2{X: s.W, Y: s.H})
	d.pair(0, "ENDSEC")
}

func (d dxf) tables(names []string, layers []DrawingLayer) {
	d.pair(0, "SECTION")
	d.pair(2, "TABLES")
	d.pair(0, "TABLE")
	d.pair(2, "LTYPE")
	d.pair(70, "1")
	d.pair(0, "LTYPE")
	d.pair(2, "CONTINUOUS")
	d.pair(70, "0")
	d.pair(3, "Solid line")
	d.pair(72, "65")
	d.pair(73, "0")
	d.pair(40, "0")
	d.pair(0, "ENDTAB")
	d.pair(0, "TABLE")
	d.pair(2, "LAYER")
	d.pair(70, fmt.Sprint(len(names)))
	for i, name := range names {
		d.pair(0, "LAYER")
		d.pair(2, name)
		d.pair(70, "0")
		color := layers[i].Color
		if color < 1 || color > 255 {
			color = blackOrWhite
		}
		d.pair(62, fmt.Sprint(color))
		d.pair(6, "CONTINUOUS")
	}
	d.pair(0, "ENDTAB")
	d.pair(0, "ENDSEC")
}

func (d dxf) layer(name string, l *DrawingLayer) {
	for _, line := range l.Lines {
		d.polyline(name, line)
	}
	for _, c := range l.Circles {
		d.pair(0, "CIRCLE")
		d.pair(8, name)
		d.point(10, c.At)
		d.pair(40, mm(c.Diameter/2))
	}
	for _, t := range l.Texts {
		d.pair(0, "TEXT")
		d.pair(8, name)
		d.point(10, t.At)
		d.pair(40, mm(t.Height))
		d.pair(1, ascii(t.Text))
	}
}

func (d dxf) polyline(name string, l Line) {
	if len(l.Points) < 2 {
		return
	}
	closed := "0"
	if l.Closed {
		closed = "1"
	}
	d.pair(0, "POLYLINE")
	d.pair(8, name)
	d.pair(66, "1")
	d.point(10, geom.Vec2{})
	d.pair(70, closed)
	for _, p := range l.Points {
		d.pair(0, "VERTEX")
		d.pair(8, name)
		d.point(10, p)
	}
	d.pair(0, "SEQEND")
	d.pair(8, name)
}

// ascii is text as Release 12 has it: no line breaks, its own signs for degree and diameter, and a question mark for
// letters that it lacks.
func ascii(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == 'Ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '±':
			b.WriteString("%%p")
		case r == '×':
			b.WriteByte('x')
		case r == '²':
			b.WriteByte('2')
		case r == '%':
			b.WriteString("%%%")
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
