package sheet

import (
	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A ComparisonView is stacks side by side: each in a column with its picture, its figures and by how much they differ.
type ComparisonView struct {
	Columns []ComparedColumn
	Rows    []ComparedRow
	Note    string // below the table: what the differences are from
	Message string // instead of columns, where there are none
	Whole   bool   // every row is wanted, however little is left for the pictures
}

// A ComparedColumn is one stack.
type ComparedColumn struct {
	Name    string
	Chosen  bool
	Fault   string   // why it has no figures, "" where it has
	Choices []string // what sets it apart, the weightiest first
}

// A ComparedRow is one figure of all stacks, with a value and a difference for each column; "" where there is none.
type ComparedRow struct {
	Name                string
	Values, Differences []string
}

// same reports whether no stack differs in the row.
func (r ComparedRow) same() bool {
	for _, d := range r.Differences {
		if d != "" {
			return false
		}
	}
	return true
}

// A ComparisonSheet is the drawing, with the places that its pictures go to: one for each column, all of one size.
type ComparisonSheet struct {
	*draw.Drawing
	Pictures []geom.Box2
	columns  []geom.Box2
}

// ColumnAt is the column at a place of the sheet, from 0.
func (s ComparisonSheet) ColumnAt(x, y float64) (i int, ok bool) {
	for i, b := range s.columns {
		if x >= b.Min.X && x < b.Max.X && y >= b.Min.Y && y < b.Max.Y {
			return i, true
		}
	}
	return 0, false
}

// Distances of a comparison, in drawing units.
const (
	comparedEdge  = 12
	comparedGap   = 10
	comparedNames = 84 // width of the column with the names of the figures
	mostChoices   = 4  // lines

	leastPicture = 0.4 // of the sheet's height; rows that say nothing make room for it
)

// Comparison draws stacks side by side on a sheet of w × h units. Where the sheet is too low for all rows, those in which
// nothing differs are left out first.
func Comparison(v ComparisonView, s Style, w, h float64) ComparisonSheet {
	out := ComparisonSheet{Drawing: draw.New(w, h, s.Ink.Paper)}
	if len(v.Columns) == 0 {
		message(out.Drawing, s, v.Message, box(0, 0, w, h))
		return out
	}
	c := comparing{v: v, s: s, d: out.Drawing, lead: s.text() * 1.4, top: comparedEdge, bottom: h - comparedEdge}
	c.spread(w)
	c.head()
	c.foot()
	c.choose(h)
	table := c.bottom - c.lead*float64(len(c.rows))
	for i := range v.Columns {
		out.Pictures = append(out.Pictures, box(c.x[i], c.top, c.x[i]+c.wide, max(c.top+1, table-comparedGap)))
		out.columns = append(out.columns, box(c.x[i]-comparedGap/2, 0, c.x[i]+c.wide+comparedGap/2, h))
	}
	c.table(table)
	return out
}

// ComparisonHeight is how high a sheet so wide has to be for pictures that are aspect times as high as wide above a whole
// table.
func ComparisonHeight(v ComparisonView, s Style, w, aspect float64) float64 {
	const ample = 1e5
	v.Whole = true
	c := Comparison(v, s, w, ample)
	if len(c.Pictures) == 0 {
		return 60
	}
	size := c.Pictures[0].Size()
	return ample - size.Y + aspect*size.X
}

// A comparing is a comparison in the making.
type comparing struct {
	v           ComparisonView
	s           Style
	d           *draw.Drawing
	x           []float64 // left edges of the columns
	wide, lead  float64
	top, bottom float64 // still free between
	rows        []ComparedRow
}

// spread sets the columns' places.
func (c *comparing) spread(w float64) {
	n := float64(len(c.v.Columns))
	left := float64(comparedEdge + comparedNames)
	c.wide = max(20, (w-left-comparedEdge-comparedGap*(n-1))/n)
	for i := range c.v.Columns {
		c.x = append(c.x, left+float64(i)*(c.wide+comparedGap))
	}
}

// head writes the names.
func (c *comparing) head() {
	size := c.s.text() + 2
	for i, col := range c.v.Columns {
		words := fitted(c.s, col.Name, size, true, c.wide)
		c.d.Text(draw.Text{At: vec(c.x[i], c.top+size), Words: words, Size: size, Bold: true, Color: c.s.Ink.Ink})
		if col.Chosen {
			y := c.top + size + 4
			c.d.Segments(draw.Pen{Color: c.s.Ink.Ink, Width: 1.4}, draw.Segment{vec(c.x[i], y), vec(c.x[i]+c.s.Letters.Width(words, size, true), y)})
		}
	}
	c.top += size + 9
}

// foot writes what sets the stacks apart and the note, from the bottom up.
func (c *comparing) foot() {
	size := c.s.small()
	if c.v.Note != "" && !c.s.Bare {
		lines := wrap(c.s, c.v.Note, size, c.d.W-2*comparedEdge)
		for k, line := range lines {
			y := c.bottom - c.lead*float64(len(lines)-1-k) - 2
			c.d.Text(draw.Text{At: vec(comparedEdge, y), Words: line, Size: size, Color: c.s.Ink.Faint})
		}
		c.bottom -= c.lead * (float64(len(lines)) + 0.3)
	}
	all := make([][]string, len(c.v.Columns))
	most := 0
	for i, col := range c.v.Columns {
		all[i] = c.lines(col, size)
		most = max(most, len(all[i]))
	}
	from := c.bottom - c.lead*float64(most)
	for i, lines := range all {
		colour := c.s.Ink.Faint
		if c.v.Columns[i].Fault != "" {
			colour = c.s.Ink.Accent
		}
		for k, line := range lines {
			c.d.Text(draw.Text{At: vec(c.x[i], from+c.lead*float64(k)+size), Words: line, Size: size, Color: colour})
		}
	}
	if most > 0 {
		c.bottom = from - 4
	}
}

// lines are what sets a stack apart, or why it has no figures, as lines of its column.
func (c *comparing) lines(col ComparedColumn, size float64) []string {
	var out []string
	if col.Fault != "" {
		if out = wrap(c.s, col.Fault, size, c.wide); len(out) > mostChoices {
			out = out[:mostChoices]
			out[mostChoices-1] = fitted(c.s, out[mostChoices-1]+" …", size, false, c.wide)
		}
		return out
	}
	for i, one := range col.Choices {
		lines := wrap(c.s, one, size, c.wide)
		if len(out)+len(lines) > mostChoices && i > 0 {
			out[len(out)-1] = fitted(c.s, out[len(out)-1]+" …", size, false, c.wide)
			break
		}
		out = append(out, lines...)
	}
	return out[:min(len(out), mostChoices)]
}

// choose takes the rows that there is room for: first those in which something differs.
func (c *comparing) choose(h float64) {
	room := int((c.bottom - c.top - comparedGap - leastPicture*h) / c.lead)
	if c.v.Whole {
		room = len(c.v.Rows)
	}
	room = max(0, min(room, len(c.v.Rows)))
	differ := 0
	for _, r := range c.v.Rows {
		if !r.same() {
			differ++
		}
	}
	spare := room - min(room, differ)
	for _, r := range c.v.Rows {
		switch {
		case len(c.rows) == room:
			return
		case !r.same():
			c.rows = append(c.rows, r)
		case spare > 0:
			spare--
			c.rows = append(c.rows, r)
		}
	}
}

// table writes the rows below y.
func (c *comparing) table(y float64) {
	size := c.s.text()
	for _, r := range c.rows {
		c.d.Segments(draw.Pen{Color: c.s.Ink.Rule, Width: 0.6}, draw.Segment{vec(comparedEdge, y), vec(c.d.W-comparedEdge, y)})
		base := y + c.lead*0.72
		c.d.Text(draw.Text{At: vec(comparedEdge, base), Words: fitted(c.s, r.Name, c.s.small(), false, comparedNames-6), Size: c.s.small(), Color: c.s.Ink.Faint})
		for i := range c.v.Columns {
			c.cell(r, i, base, size)
		}
		y += c.lead
	}
}

// mostCell keeps a value and its difference near each other in a wide column.
const mostCell = 190

// cell writes a value at the left of its column and the difference at its right.
func (c *comparing) cell(r ComparedRow, i int, base, size float64) {
	value, by := "–", ""
	if i < len(r.Values) && r.Values[i] != "" {
		value = r.Values[i]
	}
	if i < len(r.Differences) {
		by = r.Differences[i]
	}
	taken, wide := 0.0, min(c.wide, mostCell)
	if by != "" {
		by = fitted(c.s, by, size, true, wide*0.6)
		taken = c.s.Letters.Width(by, size, true) + 6
		c.d.Text(draw.Text{At: vec(c.x[i]+wide, base), Words: by, Size: size, Bold: true, Color: c.s.Ink.Ink, Align: draw.Right})
	}
	c.d.Text(draw.Text{At: vec(c.x[i], base), Words: fitted(c.s, value, size, false, wide-taken), Size: size, Color: c.s.Ink.Ink})
}
