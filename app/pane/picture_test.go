package pane

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// heard counts what a picture reports.
type heard struct {
	turned, panned, zoomed, clicked, doubled, rested int
	dx                                               float32
	keys                                             []fyne.KeyName
}

func listening(t *testing.T) (*Picture, *heard) {
	t.Helper()
	test.NewTempApp(t)
	h := &heard{}
	p := NewPicture("test", fyne.NewSize(50, 50), Gestures{
		Turned:  func(dx, _ float32) { h.turned++; h.dx += dx },
		Panned:  func(dx, _ float32) { h.panned++; h.dx += dx },
		Zoomed:  func(fyne.Position, float32) { h.zoomed++ },
		Clicked: func(fyne.Position) { h.clicked++ },
		Doubled: func(fyne.Position) { h.doubled++ },
		Rested:  func() { h.rested++ },
		Key:     func(k fyne.KeyName) { h.keys = append(h.keys, k) },
	})
	w := test.NewWindow(p)
	t.Cleanup(w.Close)
	w.Resize(fyne.NewSize(200, 100))
	return p, h
}

func at(b desktop.MouseButton, m fyne.KeyModifier, x float32) *desktop.MouseEvent {
	return &desktop.MouseEvent{Button: b, Modifier: m, PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 20)}}
}

func TestDrags(t *testing.T) {
	for _, tt := range []struct {
		name           string
		button         desktop.MouseButton
		modifier       fyne.KeyModifier
		turned, panned int
	}{
		{"left turns", desktop.MouseButtonPrimary, 0, 3, 0},
		{"shift and left pans", desktop.MouseButtonPrimary, fyne.KeyModifierShift, 0, 3},
		{"middle pans", desktop.MouseButtonTertiary, 0, 0, 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, h := listening(t)
			p.MouseDown(at(tt.button, tt.modifier, 10))
			for range 3 {
				p.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(4, 0)})
			}
			p.DragEnd()
			p.MouseUp(at(tt.button, tt.modifier, 22))
			if h.turned != tt.turned || h.panned != tt.panned || h.dx != 12 || h.rested != 1 || h.clicked != 0 {
				t.Errorf("%+v", *h)
			}
		})
	}
}

// The toolkit does not drag with the right button: the picture does.
func TestRightButtonPans(t *testing.T) {
	p, h := listening(t)
	p.MouseDown(at(desktop.MouseButtonSecondary, 0, 10))
	p.MouseMoved(at(desktop.MouseButtonSecondary, 0, 15))
	p.MouseMoved(at(desktop.MouseButtonSecondary, 0, 22))
	p.MouseUp(at(desktop.MouseButtonSecondary, 0, 22))
	p.MouseMoved(at(0, 0, 90))
	if h.panned != 2 || h.dx != 12 || h.rested != 1 || h.clicked != 0 {
		t.Errorf("%+v", *h)
	}
}

func TestClicksAreToldAtOnceAndDoubledOnce(t *testing.T) {
	p, h := listening(t)
	click := func(x float32) {
		p.MouseDown(at(desktop.MouseButtonPrimary, 0, x))
		p.MouseUp(at(desktop.MouseButtonPrimary, 0, x))
	}
	click(10)
	if h.clicked != 1 {
		t.Fatal("a click waits")
	}
	click(12)
	click(60)
	click(150)
	if h.doubled != 1 || h.clicked != 3 {
		t.Errorf("%d doubled, %d clicked; want 1 and 3", h.doubled, h.clicked)
	}
}

func TestWheelKeysAndFocus(t *testing.T) {
	p, h := listening(t)
	p.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	p.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(25, 0)})
	p.Focus()
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if h.zoomed != 1 || len(h.keys) != 1 || !p.Focused() {
		t.Errorf("%+v, focused %v", *h, p.Focused())
	}
}

func TestFramesArePaintedOnceEach(t *testing.T) {
	p, _ := listening(t)
	painted := 0
	p.Painted = func() { painted++ }
	img := image.NewRGBA(image.Rect(0, 0, 100, 50))
	p.Put(img)
	p.generate(100, 50)
	p.generate(100, 50)
	if painted != 1 || p.generate(10, 10) != image.Image(img) {
		t.Errorf("told %d times, want once", painted)
	}
	if x, y := p.Pixel(fyne.NewPos(p.Size().Width/2, p.Size().Height)); x != 50 || y != 50 {
		t.Errorf("the middle below is pixel %d, %d", x, y)
	}
}

func newTestRow(t *testing.T) *Row {
	t.Helper()
	test.NewTempApp(t)
	var panes []fyne.CanvasObject
	for range 3 {
		panes = append(panes, NewPicture("p", fyne.NewSize(60, 40), Gestures{}))
	}
	r := NewRow(1, panes, []float32{100, 0, 200}, []bool{false, false, false})
	w := test.NewWindow(r)
	t.Cleanup(w.Close)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(800, 300))
	return r
}

func TestRowSharesItsWidth(t *testing.T) {
	r := newTestRow(t)
	for _, whole := range []float32{800, 400, 300, 194} {
		sum := float32(2 * fenceWidth)
		for _, w := range r.fit(whole) {
			if w < 59.9 {
				t.Errorf("in %v a pane is %v wide", whole, w)
			}
			sum += w
		}
		if sum < whole-0.1 || sum > whole+0.1 {
			t.Errorf("the panes of %v come to %v", whole, sum)
		}
	}
	if w := r.fit(800); w[0] != 100 || w[2] != 200 {
		t.Errorf("with room for all: %v", w)
	}
}

// TestPanesTakeTurns: another one gives, hidden ones take no room, and those that grow keep their share of a wide row.
func TestPanesTakeTurns(t *testing.T) {
	r := newTestRow(t)
	r.grows[0] = true
	if w := r.fit(2560); w[0] != 200 || w[2] != 200 {
		t.Errorf("in a row twice as wide as usual: %v", w)
	}
	r.widths[1] = 150
	r.Arrange(2, false, func(int) bool { return true })
	if w := r.fit(800); w[0] != 100 || w[1] != 150 || w[2] != 800-250-2*fenceWidth {
		t.Errorf("the last one gives: %v", w)
	}
	r.Arrange(2, false, func(i int) bool { return i == 2 })
	if w := r.fit(r.Size().Width); w[2] != 800 || w[0] != 0 || w[1] != 0 || !r.fences[0].Hidden || !r.fences[1].Hidden {
		t.Errorf("alone: %v", w)
	}
	r.Arrange(1, false, func(i int) bool { return i != 0 })
	if w := r.fit(800); w[1] != 800-200-fenceWidth || w[2] != 200 {
		t.Errorf("two of them: %v", w)
	}
	r.Arrange(1, false, func(int) bool { return true })
	if w := r.fit(800); w[0] != 100 || w[1] != 800-300-2*fenceWidth || w[2] != 200 {
		t.Errorf("all again: %v", w)
	}
}

func TestFencesMove(t *testing.T) {
	r := newTestRow(t)
	before := r.fit(r.Size().Width)
	r.fences[0].Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(30, 0)})
	after := r.fit(r.Size().Width)
	if after[0] != before[0]+30 || after[1] != before[1]-30 || after[2] != before[2] {
		t.Errorf("from %v to %v", before, after)
	}
	r.fences[0].Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(-5000, 0)})
	if got := r.fit(r.Size().Width); got[0] != 60 {
		t.Errorf("dragged past the least: %v", got)
	}
}

// A click with the right button asks, where something listens and nothing pans; a hand that shakes on it asks all the same.
func TestRightButtonAsks(t *testing.T) {
	p, _ := listening(t)
	asked := 0
	p.Asked, p.Panned = func(fyne.Position) { asked++ }, nil
	p.MouseDown(at(desktop.MouseButtonSecondary, 0, 10))
	p.MouseMoved(at(desktop.MouseButtonSecondary, 0, 11))
	p.MouseUp(at(desktop.MouseButtonSecondary, 0, 11))
	if asked != 1 {
		t.Errorf("asked %d times, want once", asked)
	}
}
