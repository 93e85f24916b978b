package export

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"grainstack/slicing/geom"
)

const (
	// hairline is the width of drawn lines, mm: the finest that a cutter's or printer's program keeps.
	hairline = 0.1
	// capitalShare is the height of a capital as a share of the type's size, about so for any sans-serif.
	capitalShare = 0.72
)

// WriteSVG writes a sheet as SVG 1.1: its size in mm, and the same mm as units of its coordinates, to a ten-thousandth. Each
// drawing layer is a group with the layer's name as its title, and an id made of it.
func WriteSVG(w io.Writer, s Sheet) error {
	if err := s.check(); err != nil {
		return err
	}
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintf(out, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s">
<title>%s</title>
`, mm(s.W), mm(s.H), mm(s.W), mm(s.H), escaped(s.Name))
	for i, id := range s.plainNames(false) {
		l := &s.Layers[i]
		fmt.Fprintf(out, "<g id=\"%s\" fill=\"none\" stroke=\"#000\" stroke-width=\"%s\"%s>\n<title>%s</title>\n", id, mm(l.width()), dashes(l.Dash), escaped(l.Name))
		for _, line := range l.Lines {
			s.svgLine(out, line)
		}
		for _, c := range l.Circles {
			fmt.Fprintf(out, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", mm(c.At.X), mm(s.H-c.At.Y), mm(c.Diameter/2))
		}
		for _, t := range l.Texts {
			fmt.Fprintf(out, "<text x=\"%s\" y=\"%s\" font-family=\"sans-serif\" font-size=\"%s\" fill=\"#000\" stroke=\"none\">%s</text>\n",
				mm(t.At.X), mm(s.H-t.At.Y), mm(t.Height/capitalShare), escaped(t.Text))
		}
		out.WriteString("</g>\n")
	}
	out.WriteString("</svg>\n")
	return out.Flush() // a bufio.Writer keeps its first error
}

// width is that of a layer's lines, mm.
func (l *DrawingLayer) width() float64 {
	if l.Width > 0 {
		return l.Width
	}
	return hairline
}

// dashes are lines and gaps as an attribute; nothing for whole lines.
func dashes(dash []float64) string {
	if len(dash) == 0 {
		return ""
	}
	words := make([]string, len(dash))
	for i, d := range dash {
		words[i] = mm(d)
	}
	return ` stroke-dasharray="` + strings.Join(words, " ") + `"`
}

func (s *Sheet) svgLine(out *bufio.Writer, l Line) {
	if len(l.Points) == 0 {
		return
	}
	out.WriteString(`<path d="M`)
	for i, p := range l.Points {
		if i > 0 {
			out.WriteByte('L')
		}
		out.WriteString(s.svgPoint(p))
	}
	if l.Closed {
		out.WriteByte('Z')
	}
	out.WriteString("\"/>\n")
}

func (s *Sheet) svgPoint(p geom.Vec2) string { return mm(p.X) + " " + mm(s.H-p.Y) }

// mm prints a length to a ten-thousandth, without needless zeros.
func mm(v float64) string {
	text := strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0")
	if text = strings.TrimSuffix(text, "."); text == "-0" {
		return "0"
	}
	return text
}

// escaped is text as XML takes it.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder has no error
	return b.String()
}
