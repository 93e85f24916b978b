package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"strconv"
	"strings"

	"grainstack/slicing/geom"
)

// WriteSVG writes a drawing as SVG 1.1 at true size: each drawing unit is mm wide, width and height are in millimetres and
// so are all figures inside (the view box has the same size). Lettering asks for the typeface Lato and keeps its laid-out
// length in any other.
func WriteSVG(w io.Writer, d *Drawing, l *Letters, mm float64) error {
	s := &svg{to: bufio.NewWriter(w), letters: l, mm: mm}
	wide, tall := s.number(d.W), s.number(d.H)
	s.print(`<?xml version="1.0" encoding="UTF-8"?>`, "\n",
		`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="`, wide, `mm" height="`, tall, `mm" viewBox="0 0 `, wide, ` `, tall, `">`, "\n",
		`<g font-family="Lato, sans-serif" stroke-linejoin="round" fill="none">`, "\n")
	s.Fill(geom.Region{BoxRing(geom.Box2{Max: geom.Vec2{X: d.W, Y: d.H}})}, d.Paper)
	d.Play(s)
	s.print("</g>\n</svg>\n")
	if s.err == nil {
		s.err = s.to.Flush()
	}
	if s.err != nil {
		return fmt.Errorf("draw: svg: %w", s.err)
	}
	return nil
}

// An svg is the Backend behind WriteSVG; it keeps its first error.
type svg struct {
	to      *bufio.Writer
	letters *Letters
	mm      float64
	err     error
}

func (s *svg) print(parts ...string) {
	for _, p := range parts {
		if s.err == nil {
			_, s.err = s.to.WriteString(p)
		}
	}
}

// number is a length of the drawing in mm, to a ten-thousandth.
func (s *svg) number(units float64) string {
	n := strconv.FormatFloat(units*s.mm, 'f', 4, 64)
	n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	if n == "-0" {
		return "0"
	}
	return n
}

// paint is an attribute of one colour, and its opacity where it has any.
func paint(kind string, c color.RGBA) string {
	n := straight(c)
	out := fmt.Sprintf(` %s="#%02x%02x%02x"`, kind, n.R, n.G, n.B)
	if n.A != 255 {
		out += fmt.Sprintf(` %s-opacity="%.3g"`, kind, float64(n.A)/255)
	}
	return out
}

func (s *svg) points(points []geom.Vec2, closed bool) {
	for i, p := range points {
		s.print([...]string{"L", "M"}[bit(i == 0)], s.number(p.X), " ", s.number(p.Y))
	}
	if closed {
		s.print("Z")
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Fill is part of Backend.
func (s *svg) Fill(r geom.Region, c color.RGBA) {
	s.print(`<path`, paint("fill", c), ` d="`)
	for _, ring := range r {
		s.points(ring, true)
	}
	s.print(`"/>`, "\n")
}

// Lines is part of Backend.
func (s *svg) Lines(p Pen, lines []Line) {
	s.pen(p)
	for _, l := range lines {
		s.points(l.Points, l.Closed)
	}
	s.print(`"/>`, "\n")
}

// Segments is part of Backend.
func (s *svg) Segments(p Pen, segs []Segment) {
	s.pen(p)
	for i := range segs {
		s.points(segs[i][:], false)
	}
	s.print(`"/>`, "\n")
}

// pen opens a path.
func (s *svg) pen(p Pen) {
	s.print(`<path`, paint("stroke", p.Color), ` stroke-width="`, s.number(p.Width), `"`)
	if len(p.Dash) > 0 {
		dash := make([]string, len(p.Dash))
		for i, v := range p.Dash {
			dash[i] = s.number(v)
		}
		s.print(` stroke-dasharray="`, strings.Join(dash, " "), `"`)
	}
	if p.dotted() {
		s.print(` stroke-linecap="round"`)
	}
	s.print(` d="`)
}

// Text is part of Backend.
func (s *svg) Text(t Text) {
	x, y := s.number(t.At.X), s.number(t.At.Y)
	s.print(`<text x="`, x, `" y="`, y, `" font-size="`, s.number(t.Size), `" text-anchor="`, [...]string{"start", "middle", "end"}[t.Align], `"`,
		` textLength="`, s.number(s.letters.Width(t.Words, t.Size, t.Bold)), `" lengthAdjust="spacingAndGlyphs"`, paint("fill", t.Color))
	if t.Bold {
		s.print(` font-weight="bold"`)
	}
	if t.Up {
		s.print(` transform="rotate(-90 `, x, ` `, y, `)"`)
	}
	s.print(`>`)
	if s.err == nil {
		s.err = xml.EscapeText(s.to, []byte(t.Words))
	}
	s.print("</text>\n")
}
