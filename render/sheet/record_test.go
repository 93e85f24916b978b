package sheet_test

import (
	"image/color"
	"math"
	"slices"
	"testing"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A record is a Backend that notes down what it is given.
type record struct {
	fills []filled
	segs  []stroked
	lines []lined
	texts []draw.Text
}

type (
	filled struct {
		geom.Region
		color.RGBA
	}
	stroked struct {
		draw.Segment
		draw.Pen
	}
	lined struct {
		draw.Line
		draw.Pen
	}
)

func (r *record) Fill(g geom.Region, c color.RGBA) { r.fills = append(r.fills, filled{g, c}) }
func (r *record) Text(t draw.Text)                 { r.texts = append(r.texts, t) }
func (r *record) Segments(p draw.Pen, segs []draw.Segment) {
	for _, s := range segs {
		r.segs = append(r.segs, stroked{s, p})
	}
}
func (r *record) Lines(p draw.Pen, lines []draw.Line) {
	for _, l := range lines {
		r.lines = append(r.lines, lined{l, p})
	}
}

func recorded(d *draw.Drawing) *record {
	r := &record{}
	d.Play(r)
	return r
}

func (r *record) words() []string {
	var out []string
	for _, t := range r.texts {
		out = append(out, t.Words)
	}
	return out
}

func (r *record) says(words string) bool { return slices.Contains(r.words(), words) }

// checkLettering fails where lettering leaves the sheet or runs into other lettering, and where a line would leave it.
func checkLettering(t *testing.T, name string, d *draw.Drawing, l *draw.Letters) {
	t.Helper()
	r := recorded(d)
	var boxes []geom.Box2
	for i, txt := range r.texts {
		b := l.Box(txt)
		if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > d.W || b.Max.Y > d.H {
			t.Errorf("%s: %q reaches %.1f outside %g × %g", name, txt.Words, b, d.W, d.H)
		}
		for j, o := range boxes {
			// the room for accents and tails may touch, the letters may not
			if b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y-1 && o.Min.Y < b.Max.Y-1 {
				t.Errorf("%s: %q %.1f runs into %q %.1f", name, txt.Words, b, r.texts[j].Words, o)
			}
		}
		boxes = append(boxes, l.Box(r.texts[i]))
	}
}

func near(a, b, by float64) bool { return math.Abs(a-b) <= by }
