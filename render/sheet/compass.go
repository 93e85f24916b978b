package sheet

import (
	"image/color"
	"math"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A CompassView is a map of directions for the stack: one measure over the half sphere.
type CompassView struct {
	Title   string // the measure, with its unit
	Points  []CompassPoint
	More    bool      // more of the measure is better
	Whole   bool      // the measure is a whole number
	Best    []int     // indices of the points that are best by the maker's weights, the best first
	Now     geom.Vec  // the present stack axis, zero for none
	Pointed geom.Vec  // the direction looked at, zero for none
	Spacing float64   // radians between neighbours, about
	Field   []float32 // as CompassField gives it; nil where it is to be worked out
	Notes   []string  // below the map
	Message string    // stands in the middle instead of a map
}

// A CompassPoint is a direction with its figure. Directions are in the piece's own frame; the two ends of an axis are one.
type CompassPoint struct {
	Axis     geom.Vec
	Value    float64 // in the title's unit
	Unbeaten bool
	Rough    bool // to be worked out again
}

// A CompassSheet is the drawn map.
type CompassSheet struct {
	*draw.Drawing
	disc disc
}

// DirectionAt is the direction at a place on the sheet, with z ≥ 0; ok is false beside the disc.
func (c CompassSheet) DirectionAt(x, y float64) (d geom.Vec, ok bool) {
	if !(c.disc.radius > 0) {
		return geom.Vec{}, false
	}
	return c.disc.direction(vec(x, y))
}

// Spot is where a direction lies on the sheet.
func (c CompassSheet) Spot(d geom.Vec) geom.Vec2 { return c.disc.spot(d) }

// Compass draws the map on w × h drawing units: the measure as a wash that leaves the paper bare where it is best, with contour lines; a
// dot for each direction that nothing beats, numbers for the best, and the present stand.
func Compass(v CompassView, s Style, w, h float64) CompassSheet {
	d := draw.New(w, h, s.Ink.Paper)
	c := CompassSheet{Drawing: d}
	if v.Message != "" || len(v.Points) == 0 {
		message(d, s, v.Message, box(0, 0, w, h))
		return c
	}
	top, bottom, notes := c.margins(v, s, w, h)
	radius := min(w/2-s.small()*1.6-4, (bottom-top)/2-s.small()*1.3)
	if !(radius > 4) {
		return c
	}
	c.disc = disc{vec(w/2, (top+bottom)/2), radius}
	low, high := v.extent()
	levels := contourLevels(low, high, v.Whole, int(clamp(radius/20, 4, mostLevels)))
	c.wash(v, s, levels)
	if !s.Bare {
		d.Text(draw.Text{At: vec(8, s.text()+6), Words: fitted(s, v.Title, s.text(), true, w-16), Size: s.text(), Bold: true, Color: s.Ink.Ink})
	}
	c.graticule(s)
	c.marks(v, s)
	c.key(v, s, bottom)
	c.scale(v, s, levels, box(8, bottom, w-8, bottom+s.small()*2.6))
	for i, n := range notes {
		d.Text(draw.Text{At: vec(8, h-6-float64(len(notes)-1-i)*s.text()*1.4), Words: n, Size: s.text(), Color: s.Ink.Faint})
	}
	return c
}

// margins are where the disc's pane begins and ends, and the notes in lines.
func (c CompassSheet) margins(v CompassView, s Style, w, h float64) (top, bottom float64, notes []string) {
	top, bottom = 4, h-6-s.small()*2.6
	if s.Bare {
		return top, bottom, nil
	}
	for _, n := range v.Notes {
		notes = append(notes, wrap(s, n, s.text(), w-16)...)
	}
	return top + s.text() + 8, bottom - float64(len(notes))*s.text()*1.4, notes
}

func (v CompassView) extent() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range v.Points {
		low, high = min(low, p.Value), max(high, p.Value)
	}
	return low, high
}

// mostLevels is how many contour lines there are at the most: more tones can't be told apart. A small disc has fewer.
const mostLevels = 8

// contourLevels are round figures between low and high, a like step apart: 1, 2 or 5 times a power of ten. Whole figures are parted half-way
// between.
func contourLevels(low, high float64, whole bool, most int) []float64 {
	if !(high > low) {
		return nil
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(most))))
	for _, k := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*k) <= float64(most) {
			step *= k
			break
		}
	}
	shift := 0.0
	if whole {
		step, shift = math.Max(math.Round(step), 1), 0.5
	}
	var out []float64
	for l := (math.Floor(low/step) + 1) * step; l-shift < high; l += step {
		if l-shift > low {
			out = append(out, l-shift)
		}
	}
	return out
}

// tone is the wash between two levels, band 0 being below the first: paper for the best, pencil for the worst.
func (v CompassView) tone(s Style, band, bands int) color.RGBA {
	if bands < 2 {
		return s.Ink.Paper
	}
	t := float64(band) / float64(bands-1)
	if v.More {
		t = 1 - t
	}
	return draw.Mix(s.Ink.Paper, s.Ink.Faint, darkest*t)
}

// darkest is the share of pencil in the worst tone: ink on it can still be read.
const darkest = 0.75

// gridSide is how many figures the disc is laid out in along each side: the contours bend within a few drawing units.
const gridSide = 96

// wash lays the tones down and draws the lines between them.
func (c CompassSheet) wash(v CompassView, s Style, levels []float64) {
	grid := v.Field
	if grid == nil {
		grid = CompassField(v)
	}
	bands := len(levels) + 1
	c.Fill(geom.Region{c.disc.circle(1.02)}, v.tone(s, 0, bands))
	var lines []geom.Region
	for k, l := range levels {
		r := plane.Above(grid, gridSide, float32(l))
		for _, ring := range r {
			for i, p := range ring {
				ring[i] = c.disc.onGrid(p)
			}
		}
		c.Fill(r, v.tone(s, k+1, bands))
		lines = append(lines, r)
	}
	for _, r := range lines {
		c.Outline(draw.Pen{Color: draw.Mix(s.Ink.Faint, s.Ink.Ink, 0.3), Width: 0.6}, r)
	}
	m, far := c.disc.middle, 1.5*c.disc.radius
	frame := geom.Ring{vec(m.X-far, m.Y-far), vec(m.X+far, m.Y-far), vec(m.X+far, m.Y+far), vec(m.X-far, m.Y+far)}
	rim := c.disc.rim()
	hole := make(geom.Ring, len(rim))
	for i, p := range rim {
		hole[len(rim)-1-i] = p
	}
	c.Fill(geom.Region{frame, hole}, s.Ink.Paper)
	c.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.2}, geom.Region{rim})
}

// onGrid is where a place on the grid of the measure's field lies on the disc; the grid is a little larger than the disc.
func (c disc) onGrid(p geom.Vec2) geom.Vec2 {
	const over = 1.08
	step := 2 * over * c.radius / (gridSide - 1)
	return c.middle.Add(vec(p.X*step-over*c.radius, p.Y*step-over*c.radius))
}

// CompassField are the figures of a map on its grid, whatever the sheet's size. Between the directions they are blended by the
// inverse fourth power of the angle (Shepard, ACM National Conference, 1968), which goes through each of them; directions
// across the rim count as neighbours.
func CompassField(v CompassView) []float32 {
	unit := disc{radius: 1}
	grid := make([]float32, gridSide*gridSide)
	near := v.Spacing * v.Spacing / 100
	for i := range grid {
		d, _ := unit.direction(unit.onGrid(vec(float64(i%gridSide), float64(i/gridSide))))
		sum, all := 0.0, 0.0
		for k := range v.Points {
			cos := v.Points[k].Axis.Dot(d)
			sin2 := max(1-cos*cos, 0) + near
			w := 1 / (sin2 * sin2)
			sum += w * v.Points[k].Value
			all += w
		}
		if all > 0 {
			grid[i] = float32(sum / all)
		}
	}
	return grid
}

// graticule are the circles 30 and 60 degrees from the middle and the piece's own axes.
func (c CompassSheet) graticule(s Style) {
	pen := draw.Pen{Color: draw.Mix(s.Ink.Paper, s.Ink.Faint, 0.55), Width: 0.6, Dash: []float64{2, 3}}
	for _, deg := range []float64{30, 60} {
		c.Outline(pen, geom.Region{c.disc.circle(math.Sqrt2 * math.Sin(deg*math.Pi/360))})
	}
	m, r := c.disc.middle, c.disc.radius
	for _, a := range []struct {
		dir   geom.Vec2
		words string
	}{{vec(1, 0), "X"}, {vec(-1, 0), "−X"}, {vec(0, -1), "Y"}, {vec(0, 1), "−Y"}} {
		c.Segments(draw.Pen{Color: s.Ink.Ink, Width: 1}, draw.Segment{m.Add(a.dir.Scale(r - 4)), m.Add(a.dir.Scale(r))})
		at := m.Add(a.dir.Scale(r + s.small()*0.85 + 2))
		c.Text(draw.Text{At: vec(at.X, at.Y+s.small()*0.36), Words: a.words, Size: s.small(), Color: s.Ink.Faint, Align: draw.Centre})
	}
	c.Segments(draw.Pen{Color: s.Ink.Faint, Width: 0.8}, draw.Segment{vec(m.X-3, m.Y), vec(m.X+3, m.Y)}, draw.Segment{vec(m.X, m.Y-3), vec(m.X, m.Y+3)})
}

// marks are the unbeaten directions, the present one, the best and the one pointed at.
func (c CompassSheet) marks(v CompassView, s Style) {
	for _, p := range v.Points {
		at := c.disc.spot(p.Axis)
		switch {
		case p.Unbeaten:
			c.Fill(geom.Region{circle(at, 2.9)}, s.Ink.Paper)
			c.Fill(geom.Region{circle(at, 1.9)}, s.Ink.Ink)
		case p.Rough:
			c.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.6}, geom.Region{circle(at, 1.4)})
		}
	}
	if v.Now != (geom.Vec{}) {
		c.now(s, c.disc.spot(v.Now))
	}
	for i := len(v.Best) - 1; i >= 0; i-- {
		c.number(s, c.disc.spot(v.Points[v.Best[i]].Axis), i)
	}
	if v.Pointed != (geom.Vec{}) {
		c.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.6}, geom.Region{circle(c.disc.spot(v.Pointed), 9)})
	}
}

// now is a square stood on its corner, with a halo of paper.
func (c CompassSheet) now(s Style, at geom.Vec2) {
	lozenge := func(r float64) geom.Ring {
		return geom.Ring{vec(at.X+r, at.Y), vec(at.X, at.Y+r), vec(at.X-r, at.Y), vec(at.X, at.Y-r)}
	}
	r := s.small() * 1.35 // round a number
	c.Fill(geom.Region{lozenge(r + 2.5)}, s.Ink.Paper)
	c.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.4}, geom.Region{lozenge(r)})
}

// key says what the marks mean, in the corner below the disc on the left, where there is room.
func (c CompassSheet) key(v CompassView, s Style, bottom float64) {
	const x = 16
	lead := s.small() * 1.6
	rows := []struct {
		words string
		shown bool
		mark  func(at geom.Vec2)
	}{
		{"nothing beats it", true, func(at geom.Vec2) { c.Fill(geom.Region{circle(at, 1.9)}, s.Ink.Ink) }},
		{"as it stands", v.Now != geom.Vec{}, func(at geom.Vec2) {
			const r = 4.5
			c.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.2}, geom.Region{{vec(at.X+r, at.Y), vec(at.X, at.Y+r), vec(at.X-r, at.Y), vec(at.X, at.Y-r)}})
		}},
		{"best by weights", len(v.Best) > 0, func(at geom.Vec2) { c.Fill(geom.Region{circle(at, 4)}, s.Ink.Ink) }},
	}
	y := bottom - s.small()*0.6
	for _, row := range rows {
		t := draw.Text{At: vec(x+9, y), Words: row.words, Size: s.small(), Color: s.Ink.Faint}
		corner := s.Letters.Box(t)
		away := vec(corner.Max.X, corner.Min.Y).Sub(c.disc.middle).Len()
		if !row.shown || away < c.disc.radius+s.small() {
			continue
		}
		c.Text(t)
		row.mark(vec(x, y-s.small()*0.35))
		y -= lead
	}
}

// number is the place of one of the best: the first larger and in ink.
func (c CompassSheet) number(s Style, at geom.Vec2, i int) {
	r, ground, ink := s.small()*0.72, s.Ink.Paper, s.Ink.Ink
	if i == 0 {
		r, ground, ink = s.small()*0.9, s.Ink.Ink, s.Ink.Paper
	}
	c.Fill(geom.Region{circle(at, r+1.2)}, s.Ink.Paper)
	c.Fill(geom.Region{circle(at, r)}, ground)
	c.Outline(draw.Pen{Color: s.Ink.Ink, Width: 0.9}, geom.Region{circle(at, r)})
	c.Text(draw.Text{At: vec(at.X, at.Y+s.small()*0.33), Words: strconv.Itoa(i + 1), Size: s.small() - 1, Bold: i == 0, Color: ink, Align: draw.Centre})
}

// scale shows the tones with the figures between them.
func (c CompassSheet) scale(v CompassView, s Style, levels []float64, room geom.Box2) {
	low, high := v.extent()
	bands := len(levels) + 1
	words := func(f float64) string { return strconv.FormatFloat(math.Round(f*1e4)/1e4, 'f', -1, 64) }
	if bands == 1 {
		c.Text(draw.Text{At: vec(room.Min.X, room.Max.Y-4), Words: "the same everywhere: " + words(low), Size: s.small(), Color: s.Ink.Faint})
		return
	}
	wide := min(room.Size().X, 320)
	x0 := (room.Min.X + room.Max.X - wide) / 2
	y, tall := room.Min.Y+4, s.small()*0.7
	step := wide / float64(bands)
	last := math.Inf(-1)
	for k := range bands {
		b := box(x0+float64(k)*step, y, x0+float64(k+1)*step, y+tall)
		c.Rect(b, v.tone(s, k, bands))
		c.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.6}, geom.Region{draw.BoxRing(b)})
		t := draw.Text{At: vec(b.Min.X, y+tall+s.small()+1), Size: s.small(), Color: s.Ink.Faint, Align: draw.Centre}
		if v.Whole { // the band's own figures
			t.At.X += step / 2
			from, to := math.Ceil(low), math.Floor(high)
			if k > 0 {
				from = math.Ceil(levels[k-1])
			}
			if k < len(levels) {
				to = math.Floor(levels[k])
			}
			if t.Words = words(from); to > from {
				t.Words += "–" + words(to)
			}
		} else if k > 0 {
			t.Words = words(levels[k-1])
		}
		if half := s.Letters.Width(t.Words, t.Size, false) / 2; t.At.X-half > last+4 && t.Words != "" {
			c.Text(t)
			last = t.At.X + half
		}
	}
}
