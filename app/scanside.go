package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/app/state"
	"grainstack/app/view"
	"grainstack/slicing/geom"
)

// A scanSide is a scan on a page, alone or beside another: turned by itself, and picked on. It has a bench of its own.
type scanSide struct {
	bench   *state.Bench
	look    *view.Look
	whole   fyne.CanvasObject
	caption *paper.Told
	picked  func()
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
		Rested:  func() { s.bench.Screen.Dragging = false; s.ask() },
		Doubled: func(fyne.Position) { s.look.Camera.Camera = picture.FirstCamera(); s.ask() },
		Clicked: func(at fyne.Position) { s.look.Click(at, state.Gathering); s.ask() },
		Key:     c.key, Rune: func(rune) {}, Sized: func() { c.post(s.ask) }, Pointed: func(fyne.Position, bool) {},
	}
	s.look = view.NewLook(view.Desk{Post: c.post, Came: func() {}, Changed: s.ask, Failed: func(err error) { c.Hint(err.Error()) }}, g, func(bool) {})
	s.look.Came = s.came
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
	if s.look.Clicked(shown) && shown.Out.Found && len(s.points()) < state.MostGathered {
		s.set(append(s.points()[:len(s.points()):len(s.points())], shown.Out.Own(shown.Out.Hit.Point)))
		s.picked()
	}
}

// points are those that were picked, in the scan's own units.
func (s *scanSide) points() []geom.Vec { return s.bench.Selected.Picking.Points }

func (s *scanSide) set(points []geom.Vec) {
	s.bench.Selected.Picking.Points = points
	s.ask()
}

// stop ends its pictures for good.
func (s *scanSide) stop() { s.look.Stop() }
