package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/edit"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/app/state"
	"grainstack/app/view"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// A scanSide is a scan on a page, alone or beside another: turned by itself, and picked on. It has a bench of its own.
type scanSide struct {
	bench   *state.Bench
	look    *view.Look
	whole   fyne.CanvasObject
	caption *paper.Told
	picked  func() // a place was picked, or marked
	marks   bool   // dragging marks with chalk
}

// newScanSide is a side without a scan; picked is told of each point.
func newScanSide(c *core, picked func()) *scanSide {
	s := &scanSide{bench: state.New(state.NewShelf(c.o.Catalogue, "")), caption: paper.Tell("", paper.Small, paper.Ink), picked: picked}
	move := func(with func(dx, dy float32)) func(dx, dy float32) {
		return func(dx, dy float32) {
			s.bench.Screen.Dragging = true
			with(dx, dy)
			s.ask()
		}
	}
	g := pane.Gestures{
		Turned:  move(func(dx, dy float32) { s.look.Camera.Swing(-float64(dx)*turnSpeed, float64(dy)*turnSpeed) }),
		Panned:  move(func(dx, dy float32) { s.look.Pan(dx, dy) }),
		Zoomed:  func(at fyne.Position, n float32) { s.look.ZoomAt(at, n); s.ask() },
		Brushed: s.brush,
		Rested:  s.rest,
		Doubled: func(fyne.Position) { s.look.Camera.Camera = picture.FirstCamera(); s.ask() },
		Clicked: func(at fyne.Position) { s.look.Click(at, state.Gathering); s.ask() },
		Key:     c.key, Rune: func(rune) {}, Sized: func() { c.post(s.ask) }, Pointed: func(fyne.Position, bool) {},
	}
	s.look = view.NewLook(view.Desk{Post: c.post, Came: func() {}, Changed: s.ask, Failed: func(err error) { c.Hint(err.Error()) }}, g, func(bool) {})
	s.look.Came, s.look.Marked = s.came, true
	head := container.New(layout.NewCustomPaddedLayout(4, 4, 6, 6), s.caption)
	s.whole = container.New(layout.NewBorderLayout(head, nil, nil, nil), head, s.look.Picture)
	return s
}

// put shows a scan without points, from where the one before was seen.
func (s *scanSide) put(m *state.Model) {
	s.bench.Put(m)
	s.look.Renew()
	s.bench.Selected.Picking = state.Picking{What: state.Gathering}
	if m.Piece.Raw.Colours != nil {
		s.bench.View.Over = session.ScanTints
	}
	s.ask()
}

// ask asks for the picture as everything is now.
func (s *scanSide) ask() { s.look.Ask(s.bench, s.bench.Now()) }

// came takes the point that a click has found.
func (s *scanSide) came(shown view.Shown[view.LookAsk, view.LookOut]) {
	s.look.Arrived(shown)
	if !shown.Fine {
		s.look.Stroke.Found(shown.Ask.Way(), shown.Out.Touches)
		s.marked()
	}
	if s.look.Clicked(shown) && shown.Out.Found && len(s.points()) < state.MostGathered {
		s.set(append(s.points()[:len(s.points()):len(s.points())], shown.Out.Own(shown.Out.Hit.Point)))
		s.picked()
	}
}

// brushPixels is the radius of the chalk: who zooms in marks finer.
const brushPixels = 16

// brush is a movement of the hand over the scan; it reports false where that is to turn it.
func (s *scanSide) brush(from, at fyne.Position) bool {
	l := s.look
	if !s.marks || l.Stroke.Turns || !(l.Brush(1) > 0) {
		return false
	}
	if !l.Stroke.Drawing() { // from no direction: what is shown is what goes, on all sides
		l.Stroke.Begin(chalk.Stroke{Kind: chalk.DontCare, Radius: brushPixels / l.Brush(1) / s.bench.Settings().Scale}, l.At(from))
	}
	l.Stroke.Sweep(l.At(from), l.At(at), brushPixels/2)
	l.Stroke.Moves++
	s.ask()
	return true
}

// rest ends a stroke, or a turning.
func (s *scanSide) rest() {
	if s.look.Stroke.Drawing() {
		s.look.Stroke.Up = true
		s.marked()
	} else {
		s.look.Stroke.Turns, s.bench.Screen.Dragging = false, false
	}
	s.ask()
}

// marked takes a stroke that is whole; what is too much for the marks is left out.
func (s *scanSide) marked() {
	if _, done, ok := s.look.Stroke.Whole(); ok {
		marks, _ := edit.WithStrokes(s.chalk(), done)
		s.chalked(marks)
	}
}

// chalk are the marks on the scan, nil for none.
func (s *scanSide) chalk() *chalk.Marks { return s.bench.Settings().Chalk }

func (s *scanSide) chalked(m *chalk.Marks) {
	set := s.bench.Settings()
	set.Chalk = m
	s.bench.Do("chalk", set)
	s.bench.Rest()
	s.ask()
	s.picked()
}

// points are those that were picked, in the scan's own units.
func (s *scanSide) points() []geom.Vec { return s.bench.Selected.Picking.Points }

func (s *scanSide) set(points []geom.Vec) {
	s.bench.Selected.Picking.Points = points
	s.ask()
}

// stop ends its pictures for good.
func (s *scanSide) stop() { s.look.Stop() }
