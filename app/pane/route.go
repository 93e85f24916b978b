package pane

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A StopMark is how a stop of a route is drawn.
type StopMark int

// The marks.
const (
	StopAhead   StopMark = iota // in pencil
	StopSettled                 // in ink
	StopGuessed                 // in pencil, with a query
	StopAtWork                  // in ink, over a line that fills
	StopLeft                    // struck
	StopInDoubt                 // with a red dot
)

// A Stop is one word of a route.
type Stop struct {
	Name  string
	Mark  StopMark
	Share float32 // done, of one that is at work
}

// spoken is how the stop is written.
func (s Stop) spoken() string {
	if s.Mark == StopGuessed {
		return s.Name + "?"
	}
	return s.Name
}

var (
	_ fyne.Tappable      = (*Route)(nil)
	_ fyne.Focusable     = (*Route)(nil)
	_ desktop.Hoverable  = (*Route)(nil)
	_ desktop.Cursorable = (*Route)(nil)
)

// A Route is a quiet line of stops, to be read: each says by how it is written how far it is. A click on one, or Enter at the one
// that the arrow keys have come to, goes there.
type Route struct {
	widget.BaseWidget
	Chosen func(i int) // the hand chose a stop
	Over   func(i int) // the pointer or the keys are at a stop, -1 when they have left

	stops    []Stop
	at, over int // that the keys and the pointer are at, -1 for none
	focused  bool
}

// NewRoute is a line of stops.
func NewRoute() *Route {
	r := &Route{over: -1}
	r.ExtendBaseWidget(r)
	return r
}

// Put shows other stops.
func (r *Route) Put(stops []Stop) {
	same := len(stops) == len(r.stops)
	for i := 0; same && i < len(stops); i++ {
		same = stops[i] == r.stops[i]
	}
	if !same {
		r.stops = append(r.stops[:0:0], stops...)
		r.Refresh()
	}
}

// Stops are what is shown.
func (r *Route) Stops() []Stop { return r.stops }

const (
	routeInset = 14
	routeDot   = 6  // of the mark before a word in doubt
	routeMost  = 34 // between stops, where there is room
	routeLeast = 10
)

// spots are where the words stand and how wide they are.
func (r *Route) spots() (left, width []float32) {
	left, width = make([]float32, len(r.stops)), make([]float32, len(r.stops))
	sum := float32(2 * routeInset)
	for i, s := range r.stops {
		width[i] = fyne.MeasureText(s.spoken(), r.Theme().Size(paper.Small), fyne.TextStyle{}).Width
		sum += width[i]
	}
	gap := float32(routeMost)
	if n := len(r.stops) - 1; n > 0 {
		gap = max(routeLeast, min(gap, (r.Size().Width-sum)/float32(n)))
	}
	at := float32(routeInset)
	for i := range r.stops {
		left[i] = float32(math.Round(float64(at))) // between pixels letters would blur
		at += width[i] + gap
	}
	return left, width
}

// Box is where a stop lies.
func (r *Route) Box(i int) (fyne.Position, fyne.Size) {
	left, width := r.spots()
	return fyne.NewPos(left[i], 0), fyne.NewSize(width[i], r.Size().Height)
}

// stopAt is the stop at a place, -1 for none.
func (r *Route) stopAt(at fyne.Position) int {
	left, width := r.spots()
	for i := range left {
		if at.X >= left[i]-routeDot && at.X < left[i]+width[i]+routeLeast/2 {
			return i
		}
	}
	return -1
}

// Tapped goes to the stop under the hand.
func (r *Route) Tapped(e *fyne.PointEvent) { r.choose(r.stopAt(e.Position)) }

func (r *Route) choose(i int) {
	if i >= 0 && i < len(r.stops) && r.Chosen != nil {
		r.Chosen(i)
	}
}

// FocusGained shows at which stop the keys are.
func (r *Route) FocusGained() { r.focused = true; r.move(0) }

// FocusLost ends that.
func (r *Route) FocusLost() { r.focused = false; r.tell(-1) }

// TypedRune is for the window.
func (r *Route) TypedRune(sign rune) { paper.PassRune(r, sign) }

// TypedKey goes along the line; other keys are the window's.
func (r *Route) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		r.move(-1)
	case fyne.KeyRight:
		r.move(1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		r.choose(r.at)
	default:
		paper.PassOn(r, e)
	}
}

func (r *Route) move(by int) {
	r.at = max(0, min(len(r.stops)-1, r.at+by))
	r.tell(r.at)
}

func (r *Route) tell(i int) {
	r.Refresh()
	if r.Over != nil {
		r.Over(i)
	}
}

// MouseIn tells which stop the pointer is over.
func (r *Route) MouseIn(e *desktop.MouseEvent) { r.hover(r.stopAt(e.Position)) }

// MouseMoved follows the pointer.
func (r *Route) MouseMoved(e *desktop.MouseEvent) { r.hover(r.stopAt(e.Position)) }

// MouseOut tells that it has gone.
func (r *Route) MouseOut() { r.hover(-1) }

func (r *Route) hover(i int) {
	if i != r.over {
		r.over = i
		r.tell(i)
	}
}

// Cursor is a hand.
func (r *Route) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is the toolkit's.
func (r *Route) CreateRenderer() fyne.WidgetRenderer {
	rr := &routeRenderer{r: r, ring: canvas.NewRectangle(color.Transparent)}
	rr.ring.StrokeWidth = 2
	rr.Refresh()
	return paper.Laid(rr, r)
}

// A drawnStop is what is drawn of a stop.
type drawnStop struct {
	word              *canvas.Text
	dot               *canvas.Circle
	strike            *canvas.Rectangle
	under, full, link *canvas.Rectangle
}

type routeRenderer struct {
	r     *Route
	stops []drawnStop
	ring  *canvas.Rectangle
}

func (rr *routeRenderer) Layout(s fyne.Size) {
	left, width := rr.r.spots()
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), h))
	}
	rr.ring.Hidden = true
	for i, d := range rr.stops {
		stop := rr.r.stops[i]
		put(d.word, left[i], (s.Height-d.word.MinSize().Height)/2, width[i], d.word.MinSize().Height)
		put(d.dot, left[i]-routeDot-1, s.Height/2-routeDot/2, routeDot, routeDot)
		put(d.strike, left[i]-1, s.Height/2+1, width[i]+2, 1)
		put(d.under, left[i], s.Height-3, width[i], 2)
		put(d.full, left[i], s.Height-3, width[i]*max(0.08, min(1, stop.Share)), 2)
		if i+1 < len(left) {
			from := left[i] + width[i] + 4
			put(d.link, from, s.Height/2, left[i+1]-from-4-routeDot, 1)
		}
		d.link.Hidden = i+1 >= len(left) || d.link.Size().Width < 3
		if rr.r.focused && i == rr.r.at {
			rr.ring.Hidden = false
			put(rr.ring, left[i]-routeDot-2, 1, width[i]+routeDot+6, s.Height-2)
		}
	}
}

func (rr *routeRenderer) MinSize() fyne.Size {
	high := fyne.MeasureText("M", rr.r.Theme().Size(paper.Small), fyne.TextStyle{}).Height
	return fyne.NewSize(300, high+7)
}
func (rr *routeRenderer) Destroy() {}

func (rr *routeRenderer) Refresh() {
	t, v := rr.r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	for len(rr.stops) < len(rr.r.stops) {
		box := func() *canvas.Rectangle { return canvas.NewRectangle(nil) }
		rr.stops = append(rr.stops, drawnStop{word: canvas.NewText("", nil), dot: canvas.NewCircle(nil), strike: box(), under: box(), full: box(), link: box()})
	}
	rr.stops = rr.stops[:len(rr.r.stops)]
	for i, d := range rr.stops {
		stop := rr.r.stops[i]
		ink := paper.Pencil
		if stop.Mark == StopSettled || stop.Mark == StopAtWork || stop.Mark == StopInDoubt || i == rr.r.over {
			ink = paper.Ink
		}
		d.word.Text, d.word.TextSize, d.word.Color = stop.spoken(), t.Size(paper.Small), t.Color(ink, v)
		d.dot.FillColor, d.dot.Hidden = t.Color(paper.Red, v), stop.Mark != StopInDoubt
		d.strike.FillColor, d.strike.Hidden = t.Color(paper.Pencil, v), stop.Mark != StopLeft
		d.under.FillColor, d.under.Hidden = t.Color(paper.Line, v), stop.Mark != StopAtWork
		d.full.FillColor, d.full.Hidden = t.Color(theme.ColorNamePrimary, v), stop.Mark != StopAtWork
		d.link.FillColor = t.Color(paper.Line, v)
	}
	rr.ring.StrokeColor = t.Color(theme.ColorNamePrimary, v)
	rr.Layout(rr.r.Size())
	canvas.Refresh(rr.r)
}

func (rr *routeRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{}
	for _, d := range rr.stops {
		all = append(all, d.link, d.under, d.full, d.word, d.strike, d.dot)
	}
	return append(all, rr.ring)
}
