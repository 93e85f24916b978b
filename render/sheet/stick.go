package sheet

import (
	"image/color"
	"sort"
	"strconv"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A StickView is what the story stick shows: the stack from the front, heights in millimetres above the floor.
type StickView struct {
	Layers  []StickLayer // from below
	Veneers []Veneer     // what is left of a panel after the skim, from below; none: plain wood
	Outline []Span       // the piece from the front, heights rising
	Picked  int          // number of the picked layer, 0 for none
	Message string       // stands in the middle instead of a stick
}

// A StickLayer is one layer of the stack.
type StickLayer struct {
	Number                int
	Bottom, Top           float64 // the piece's wood
	PanelBottom, PanelTop float64 // its skimmed panel, of which some may be left over
	Turned                bool
	Marks                 int // how many things in it need a look
}

// A Veneer is one veneer of the panel. Along means that its fibres run along X when its panel is not turned. Colours left
// zero are the ink's.
type Veneer struct {
	Thickness float64
	Along     bool
	Long, End color.RGBA // edge cut along and across the fibres
}

// A Span is how wide the piece is at a height.
type Span struct{ Z, Min, Max float64 }

// A StickSheet is the stick's drawing; X right, Y down in drawing units.
type StickSheet struct {
	*draw.Drawing
	Body  geom.Box2 // where the stick itself stands; empty without layers
	PerMM float64   // drawing units a millimetre of height
	floor float64   // y of height 0
	rows  []StickLayer
}

// Y is where a height in millimetres lies on the sheet.
func (t StickSheet) Y(z float64) float64 { return t.floor - z*t.PerMM }

// Height is the height in millimetres at y; it undoes Y.
func (t StickSheet) Height(y float64) float64 {
	if t.PerMM == 0 {
		return 0
	}
	return (t.floor - y) / t.PerMM
}

// LayerAt is the number of the layer drawn at y; a joint belongs to the layer above it. ok is false above and below the
// piece's wood.
func (t StickSheet) LayerAt(y float64) (number int, ok bool) {
	if t.PerMM == 0 {
		return 0, false
	}
	z := t.Height(y)
	i := sort.Search(len(t.rows), func(i int) bool { return t.rows[i].Top > z })
	if i == len(t.rows) || z < t.rows[i].Bottom {
		return 0, false
	}
	return t.rows[i].Number, true
}

// Stick draws the story stick on w × h drawing units. Heights are at scale over the whole sheet; widths, too, where they
// fit, otherwise they are squeezed.
func Stick(v StickView, s Style, w, h float64) StickSheet {
	d := draw.New(w, h, s.Ink.Paper)
	t := StickSheet{Drawing: d, Body: geom.EmptyBox2(), rows: v.Layers}
	lo, hi := v.extent()
	if v.Message != "" || len(v.Layers) == 0 || !(hi > lo) {
		t.rows = nil
		message(d, s, v.Message, box(0, 0, w, h))
		return t
	}
	head, foot := s.small()*2+4, s.small()*0.5+6
	t.PerMM = (h - head - foot) / (hi - lo)
	if !(t.PerMM > 0) {
		t.PerMM, t.rows = 0, nil
		return t
	}
	t.floor = h - foot + lo*t.PerMM
	c := t.columns(v, s, w)
	t.Body = box(c.left, t.Y(hi), c.right, t.Y(lo))
	p := t.piece(v, c)
	t.veneers(v, s, p)
	t.joints(v, s, p)
	t.numbers(v, s, c)
	t.heights(v, s, c, head)
	t.marks(v, s, c)
	t.picked(v, s, c)
	return t
}

// extent is the lowest and the highest of all panels and of the piece.
func (v StickView) extent() (lo, hi float64) {
	for _, l := range v.Layers {
		lo = min(lo, l.Bottom, l.PanelBottom)
		hi = max(hi, l.Top, l.PanelTop)
	}
	return lo, hi
}

// columns share the width out: numbers, stick, heights, marks.
type columns struct {
	numbers     float64 // right end of the numbers
	left, right float64 // of the stick
	heights     float64 // left end of the heights
	marks       float64 // middle of the marks
	squeeze     float64 // drawing units a millimetre of width
	middle      float64 // x of the piece's middle
	center      float64 // its X in mm
	narrow      bool    // marks stand on the stick's edge and heights are rounded, to leave room for the stick
}

// narrowStick is the width below which a sheet is narrow.
const narrowStick = 140

func (t StickSheet) columns(v StickView, s Style, w float64) columns {
	c := columns{narrow: w < narrowStick, squeeze: t.PerMM}
	last, widest, marked := v.Layers[len(v.Layers)-1], s.Letters.Width(s.unitName(), s.small(), false), false
	for _, l := range v.Layers {
		widest = max(widest, s.Letters.Width(c.height(s, l.Top), s.small(), false))
		marked = marked || l.Marks > 0
	}
	const edge, gap, tick = 4, 5, 5
	num := edge + s.Letters.Width(strconv.Itoa(last.Number), s.small(), true) + gap
	rest := tick + 2 + widest + edge
	if marked && !c.narrow {
		rest += 2*markRadius + 3
	}
	room := max(w-num-rest, 8)
	lo, hi := outlineWidth(v.Outline)
	c.center = (lo + hi) / 2
	body := room
	if wide := (hi - lo) * 1.1; wide > 0 && wide*c.squeeze < room {
		body = max(wide*c.squeeze, min(room, 28))
	} else if wide > 0 {
		c.squeeze = room / wide
	}
	c.left = num + (room-body)/2
	c.right = c.left + body
	c.numbers = c.left - gap
	c.heights = c.right + tick + 2
	c.middle = (c.left + c.right) / 2
	if c.marks = c.right; marked && !c.narrow {
		c.marks = c.heights + widest + 3 + markRadius
	}
	return c
}

func outlineWidth(spans []Span) (lo, hi float64) {
	for i, p := range spans {
		if i == 0 {
			lo, hi = p.Min, p.Max
		}
		lo, hi = min(lo, p.Min), max(hi, p.Max)
	}
	return lo, hi
}

// piece is the silhouette in the sheet's numbers, heights rising (y falling); without one, the whole body.
func (t StickSheet) piece(v StickView, c columns) []Span {
	if len(v.Outline) < 2 {
		return []Span{{v.Layers[0].Bottom, c.left, c.right}, {v.Layers[len(v.Layers)-1].Top, c.left, c.right}}
	}
	out := make([]Span, len(v.Outline))
	for i, p := range v.Outline {
		out[i] = Span{p.Z, c.middle + (p.Min-c.center)*c.squeeze, c.middle + (p.Max-c.center)*c.squeeze}
	}
	return out
}

// spanAt is the silhouette at a height, between its rows by proportion; ok is false above and below it.
func spanAt(spans []Span, z float64) (p Span, ok bool) {
	i := sort.Search(len(spans), func(i int) bool { return spans[i].Z >= z })
	if i == len(spans) || (i == 0 && spans[0].Z > z) {
		return p, false
	}
	if i == 0 || spans[i].Z == z {
		return Span{z, spans[i].Min, spans[i].Max}, true
	}
	a, b := spans[i-1], spans[i]
	f := (z - a.Z) / (b.Z - a.Z)
	return Span{z, a.Min + (b.Min-a.Min)*f, a.Max + (b.Max-a.Max)*f}, true
}

// slice is the part of the silhouette between two heights as a ring on the sheet, empty where there is none.
func (t StickSheet) slice(spans []Span, z0, z1 float64) geom.Ring {
	z0, z1 = max(z0, spans[0].Z), min(z1, spans[len(spans)-1].Z)
	if z0 >= z1 {
		return nil
	}
	a, _ := spanAt(spans, z0)
	b, _ := spanAt(spans, z1)
	from := sort.Search(len(spans), func(i int) bool { return spans[i].Z > z0 })
	to := sort.Search(len(spans), func(i int) bool { return spans[i].Z >= z1 })
	rows := append(append([]Span{a}, spans[from:to]...), b)
	ring := make(geom.Ring, 0, 2*len(rows))
	for _, r := range rows {
		ring = append(ring, vec(r.Max, t.Y(r.Z)))
	}
	for i := len(rows) - 1; i >= 0; i-- {
		ring = append(ring, vec(rows[i].Min, t.Y(rows[i].Z)))
	}
	for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 { // Y runs down: turn it round to stay positive
		ring[i], ring[j] = ring[j], ring[i]
	}
	return ring
}
