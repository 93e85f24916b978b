package sheet

import (
	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A key explains one kind of mark that a sheet has.
type key struct {
	words string
	mark  func(d *draw.Drawing, at geom.Vec2) // draws it about the middle of its place
	shown bool
}

const (
	keyMark = 20.0 // width of a mark's place
	keyGap  = 14.0
)

// lineKey explains a kind of line.
func lineKey(words string, pen draw.Pen, shown bool) key {
	return key{words, func(d *draw.Drawing, at geom.Vec2) {
		d.Segments(pen, draw.Segment{at.Sub(vec(keyMark/2, 0)), at.Add(vec(keyMark/2, 0))})
	}, shown}
}

// pegKey explains a kind of hole.
func pegKey(words string, s Style, r float64, lower, shown bool) key {
	return key{words, func(d *draw.Drawing, at geom.Vec2) {
		pen := draw.Pen{Color: s.Ink.Ink, Width: 0.9}
		d.Outline(pen, geom.Region{circle(at, r)})
		d.Segments(pen, pegCross(at, r+2.5, lower)...)
	}, shown}
}

// keyLead is from one line of keys to the next.
func (s Style) keyLead() float64 { return s.small() + 6 }

// keyLines is how many lines the keys take, in a width.
func keyLines(keys []key, s Style, wide float64) (n int) {
	eachKey(keys, s, wide, func(_ key, line int, _ float64) { n = max(n, line+1) })
	return n
}

// eachKey shares the keys that are shown out among lines.
func eachKey(keys []key, s Style, wide float64, put func(k key, line int, x float64)) {
	line, x := 0, 0.0
	for _, k := range keys {
		if !k.shown {
			continue
		}
		w := keyMark + 6 + s.Letters.Width(k.words, s.small(), false)
		if x > 0 && x+w > wide {
			line, x = line+1, 0
		}
		put(k, line, x)
		x += w + keyGap
	}
}

// drawKeys writes the keys into the foot of a sheet, as many lines as the layout has kept for them.
func drawKeys(d *draw.Drawing, keys []key, s Style, f layout) {
	left := f.foot.Min.X + 4
	eachKey(keys, s, f.foot.Max.X-left, func(k key, line int, x float64) {
		if line >= f.keys {
			return
		}
		y := f.foot.Min.Y + s.text() + 2 + float64(line)*s.keyLead()
		k.mark(d, vec(left+x+keyMark/2, y-3.5))
		d.Text(draw.Text{At: vec(left+x+keyMark+6, y), Words: k.words, Size: s.small(), Color: s.Ink.Faint})
	})
}
