package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// A Scroll is the toolkit's for a column that is higher than its pane, but: it stays on its content when that becomes shorter,
// where the toolkit would show an empty pane; the wheel is the column's wherever the pointer is, over a field too; and Reveal
// finds it. Put Whole into the window.
type Scroll struct {
	*container.Scroll
	Whole fyne.CanvasObject
}

// NewScroll is a column to be scrolled.
func NewScroll(content fyne.CanvasObject) *Scroll {
	s := &Scroll{}
	s.Scroll = container.NewVScroll(container.New(kept{s}, content))
	s.Whole = container.NewStack(s.Scroll, newWheel(s))
	return s
}

// kept is content that keeps its scroll's view on it: the toolkit lays it out before it moves it to the offset.
type kept struct{ s *Scroll }

func (k kept) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Resize(size)
	if most := max(0, size.Height-k.s.Size().Height); k.s.Offset.Y > most {
		k.s.Offset.Y = most
	}
}

func (kept) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// show brings what lies from low to high of the content into sight, its beginning first.
func (s *Scroll) show(low, high float32) {
	switch view := s.Size().Height; {
	case low < s.Offset.Y || high-low > view:
		s.ScrollToOffset(fyne.NewPos(0, max(0, low)))
	case high > s.Offset.Y+view:
		s.ScrollToOffset(fyne.NewPos(0, high-view))
	}
}

// A wheel lies over a scroll and takes nothing but the wheel.
type wheel struct {
	widget.BaseWidget
	of *Scroll
}

var _ fyne.Scrollable = (*wheel)(nil)

func newWheel(of *Scroll) *wheel {
	w := &wheel{of: of}
	w.ExtendBaseWidget(w)
	return w
}

func (w *wheel) Scrolled(e *fyne.ScrollEvent) { w.of.Scrolled(e) }

func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return Laid(widget.NewSimpleRenderer(container.NewWithoutLayout()), w)
}

// round is how much of what lies round a control is brought into sight with it.
const round = 6

// Reveal brings a control that has got the focus into sight, wherever it is scrolled to.
func Reveal(o fyne.CanvasObject) {
	c := canvasOf(o)
	if c == nil {
		return
	}
	roots := append(c.Overlays().List(), c.Content())
	for _, root := range roots {
		scrolls, found := scrollsRound(root, o)
		if !found {
			continue
		}
		d := fyne.CurrentApp().Driver()
		for _, s := range scrolls {
			top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s.Content).Y
			s.show(top-round, top+o.Size().Height+round)
		}
		return
	}
}

// A Holder is a widget that tells what is in it.
type Holder interface{ Held() []fyne.CanvasObject }

// scrollsRound are the scrolls between something and what is looked for in it.
func scrollsRound(in, o fyne.CanvasObject) (all []*Scroll, found bool) {
	if in == o {
		return nil, true
	}
	var within []fyne.CanvasObject
	switch in := in.(type) {
	case *fyne.Container:
		within = in.Objects
	case *container.Scroll:
		within = []fyne.CanvasObject{in.Content}
	case *widget.PopUp:
		within = []fyne.CanvasObject{in.Content}
	case Holder:
		within = in.Held()
	}
	var own *Scroll
	for _, one := range within {
		if w, ok := one.(*wheel); ok {
			own = w.of
		}
	}
	for _, one := range within {
		if !one.Visible() {
			continue
		}
		if all, found = scrollsRound(one, o); found {
			if own != nil {
				all = append(all, own)
			}
			return all, true
		}
	}
	return nil, false
}
