package export

import (
	"fmt"
	"strings"

	"grainstack/slicing/geom"
)

// A Sheet is a drawing at true size, mm, with its origin lower left and y upwards.
type Sheet struct {
	Name   string
	W, H   float64
	Layers []DrawingLayer
}

// A DrawingLayer is what a drawing program shows or hides together.
type DrawingLayer struct {
	Name    string
	Color   int       // number of its colour in DXF, 1 to 255; 0 stands for black or white, whichever is seen
	Width   float64   // of its lines in SVG and on paper, mm; 0 stands for a hairline
	Dash    []float64 // line and gap in turn, mm; none for a whole line
	Lines   []Line
	Circles []Circle
	Texts   []Text
}

// A Line goes through its points, and back to the first where it is closed.
type Line struct {
	Points []geom.Vec2
	Closed bool
}

// A Circle is a hole or a pin seen from above.
type Circle struct {
	At       geom.Vec2
	Diameter float64
}

// A Text stands upright with the left end of its baseline at a point.
type Text struct {
	At     geom.Vec2
	Height float64 // of a capital
	Text   string
}

// RegionLines are the outlines and holes of a region as closed lines.
func RegionLines(g geom.Region) []Line {
	var out []Line
	for _, r := range g {
		if len(r) > 1 {
			out = append(out, Line{Points: r, Closed: true})
		}
	}
	return out
}

// farthest is beyond any sheet, mm; what is not below it is no drawing.
const farthest = 1e6

// check refuses sheets without size and figures that are nowhere.
func (s *Sheet) check() error {
	if !(s.W > 0 && s.H > 0 && s.W < farthest && s.H < farthest) {
		return fmt.Errorf("the drawing %q is %g × %g mm: it needs a size", s.Name, s.W, s.H)
	}
	for _, l := range s.Layers {
		ok := true
		for _, line := range l.Lines {
			for _, p := range line.Points {
				ok = ok && finite(p.X, p.Y)
			}
		}
		for _, c := range l.Circles {
			ok = ok && finite(c.At.X, c.At.Y, c.Diameter) && c.Diameter >= 0
		}
		for _, t := range l.Texts {
			ok = ok && finite(t.At.X, t.At.Y, t.Height) && t.Height >= 0
		}
		if !ok {
			return fmt.Errorf("the drawing %q has something that is nowhere on the layer %q", s.Name, l.Name)
		}
	}
	return nil
}

// plainNames are the layers' names in letters, digits, dashes and underscores that both formats allow, at most 31, each
// another: capitals where asked for.
func (s *Sheet) plainNames(capitals bool) []string {
	names := make([]string, len(s.Layers))
	taken := map[string]bool{}
	for i, l := range s.Layers {
		name := strings.Map(func(r rune) rune {
			switch {
			case capitals && r >= 'a' && r <= 'z':
				return r - 'a' + 'A'
			case r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_':
				return r
			}
			return '_'
		}, l.Name)
		if name == "" || name[0] >= '0' && name[0] <= '9' || name[0] == '-' {
			name = "L_" + name
		}
		name = name[:min(len(name), 26)]
		for n, base := 2, name; taken[strings.ToUpper(name)]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		taken[strings.ToUpper(name)] = true
		names[i] = name
	}
	return names
}
