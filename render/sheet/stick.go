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
	Outline geom.Region  // the piece from the front: X across, Y up, mm
	Picked  int          // number of the picked layer, 0 for none
	Kept    []StickKept  // what shall stay whole
	Message string       // stands in the middle instead of a stick
}

// A StickLayer is one layer of the stack.
type StickLayer struct {
	Number                int
	Bottom, Top           float64 // the piece's wood
	PanelBottom, PanelTop float64 // its skimmed panel, of which some may be left over
	Turned                bool
	Marks                 int      // how many places in it need a look
	MarkRadius            float64  // of their mark, by the worst of them
	Veneers               []Veneer // of its own panel, where it is of another board than the rest
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
// fit, otherwise they are squeezed and the sheet says how much, if there is room for it.
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
	t.kept(v, s, c, p)
	t.numbers(v, s, c)
	t.heights(v, s, c, head)
	t.scale(s, c, head)
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
	lo, hi := 0.0, 0.0
	if len(v.Outline) > 0 {
		b := v.Outline.Box()
		lo, hi = b.Min.X, b.Max.X
	}
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

// piece is the silhouette on the sheet; without one, the whole body.
func (t StickSheet) piece(v StickView, c columns) geom.Region {
	if len(v.Outline) == 0 {
		return geom.Region{draw.BoxRing(box(c.left, t.Y(v.Layers[len(v.Layers)-1].Top), c.right, t.Y(v.Layers[0].Bottom)))}
	}
	return v.Outline.Mirror(func(p geom.Vec2) geom.Vec2 { return vec(c.middle+(p.X-c.center)*c.squeeze, t.Y(p.Y)) })
}

// beyond is what of a region lies beyond a level line: below it on the sheet for sense 1, above it for -1.
func beyond(region geom.Region, y, sense float64) geom.Region {
	out := make(geom.Region, 0, len(region))
	for _, ring := range region {
		if ring = cutLevel(ring, y, sense); len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// cutLevel keeps what of a ring lies beyond y (Sutherland and Hodgman 1974, one half-plane). Several pieces stay one ring
// joined along the cut, which fills the same.
func cutLevel(r geom.Ring, y, sense float64) geom.Ring {
	kept := 0
	for i, p := range r {
		a, b := sense*(p.Y-y) >= 0, sense*(r[(i+1)%len(r)].Y-y) >= 0
		if a {
			kept++
		}
		if a != b {
			kept++
		}
	}
	if kept == 0 {
		return nil
	}
	out := make(geom.Ring, 0, kept)
	for i, p := range r {
		q := r[(i+1)%len(r)]
		a, b := sense*(p.Y-y), sense*(q.Y-y)
		if a >= 0 {
			out = append(out, p)
		}
		if (a >= 0) != (b >= 0) {
			out = append(out, vec(p.X+(q.X-p.X)*(a/(a-b)), y))
		}
	}
	return out
}

// across are the stretches of a level line at y that lie in the silhouette.
func across(piece geom.Region, y float64) []draw.Segment {
	var at []float64
	for _, ring := range piece {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if (p.Y < y) != (q.Y < y) {
				at = append(at, p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
			}
		}
	}
	sort.Float64s(at)
	var out []draw.Segment
	for i := 0; i+1 < len(at); i += 2 {
		out = append(out, draw.Segment{vec(at[i], y), vec(at[i+1], y)})
	}
	return out
}
