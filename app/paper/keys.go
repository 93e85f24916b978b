package paper

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// PassOn hands a key that a control has no use for to the window it is in, as if no control had the focus.
func PassOn(o fyne.CanvasObject, e *fyne.KeyEvent) {
	if c := canvasOf(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(e)
	}
}

// TakeKeys sends the keys to a control.
func TakeKeys(o fyne.Focusable) {
	if c := canvasOf(o.(fyne.CanvasObject)); c != nil && c.Focused() != o {
		c.Focus(o)
	}
}

// LeaveKeys leaves the keys to the window.
func LeaveKeys(o fyne.CanvasObject) {
	if c := canvasOf(o); c != nil {
		c.Unfocus()
	}
}

// PassRune is PassOn for a sign.
func PassRune(o fyne.CanvasObject, r rune) {
	if c := canvasOf(o); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	return fyne.CurrentApp().Driver().CanvasForObject(o)
}

// Laid is a renderer that lies as large as its widget. The toolkit forgets how a widget is drawn that has been out of sight for a minute,
// and lays out what it makes in its place only once the widget gets another size.
func Laid(r fyne.WidgetRenderer, of fyne.Widget) fyne.WidgetRenderer {
	if s := of.Size(); !s.IsZero() {
		r.Layout(s)
	}
	return r
}

// Ringed is a renderer with a ring round the widget while the keys go to it, laid out.
func Ringed(r fyne.WidgetRenderer, of fyne.Widget, focused func() bool) fyne.WidgetRenderer {
	ring := canvas.NewRectangle(nil)
	ring.StrokeWidth = 2
	all := &ringed{WidgetRenderer: r, of: of, focused: focused, ring: ring}
	all.draw()
	return Laid(all, of)
}

type ringed struct {
	fyne.WidgetRenderer
	of      fyne.Widget
	focused func() bool
	ring    *canvas.Rectangle
}

func (r *ringed) draw() {
	app := fyne.CurrentApp().Settings()
	r.ring.Hidden = !r.focused()
	r.ring.FillColor = color.Transparent
	r.ring.StrokeColor = app.Theme().Color(theme.ColorNamePrimary, app.ThemeVariant())
	r.ring.CornerRadius = app.Theme().Size(theme.SizeNameInputRadius)
}

func (r *ringed) Layout(s fyne.Size) {
	r.WidgetRenderer.Layout(s)
	r.ring.Resize(s)
}

func (r *ringed) Refresh() {
	r.draw()
	r.WidgetRenderer.Refresh()
	canvas.Refresh(r.ring)
}

func (r *ringed) Objects() []fyne.CanvasObject {
	all := r.WidgetRenderer.Objects()
	return append(all[:len(all):len(all)], r.ring)
}
