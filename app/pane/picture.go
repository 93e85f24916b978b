package pane

import (
	"image"
	"image/color"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Draggable    = (*Picture)(nil)
	_ fyne.Scrollable   = (*Picture)(nil)
	_ fyne.Focusable    = (*Picture)(nil)
	_ desktop.Mouseable = (*Picture)(nil)
	_ desktop.Hoverable = (*Picture)(nil)
	_ desktop.Keyable   = (*Picture)(nil)
)

// Gestures are what a picture reports. Places are in the toolkit's units from the picture's upper left corner; any may be
// nil. Turned and Panned carry the way since the last call; Rested comes once at the end of a drag.
type Gestures struct {
	Turned  func(dx, dy float32)
	Brushed func(from, at fyne.Position) bool // in place of Turned, where it reports true
	Panned  func(dx, dy float32)
	Zoomed  func(at fyne.Position, notches float32)
	Clicked func(at fyne.Position)
	Doubled func(at fyne.Position)
	Asked   func(at fyne.Position) // clicked with the other button
	Rested  func()
	Key     func(fyne.KeyName)
	Rune    func(rune)
	Sized   func() // the size in pixels may have changed
	Painted func() // the newest frame has been handed to the painter
	Pointed func(at fyne.Position, here bool)
	Shifted func(on bool) // a shift key went down or up while the keys come here
	Carrying
}

// Carrying is what a picture reports of things that are taken into the hand: Taken says whether the primary button took something at
// a place. Then Carried follows the hand, and Let comes once at the end, in place of Turned and Rested. A click takes nothing far:
// Let and then Clicked come.
type Carrying struct {
	Taken   func(at fyne.Position) bool
	Carried func(at fyne.Position)
	Let     func(moved bool)
}

// A Picture shows frames and reports gestures.
type Picture struct {
	widget.BaseWidget
	Gestures
	Name string // said by the focus ring's owner for tests and hints

	least   fyne.Size
	raster  *canvas.Raster
	ring    *canvas.Circle // what a brush would mark
	frame   *image.RGBA
	shown   bool // the frame has been handed to the painter
	focused bool

	button desktop.MouseButton
	pan    bool
	moved  bool
	carry  bool // something was taken into the hand
	from   fyne.Position
	clicks struct {
		at   fyne.Position
		when time.Time
	}
}

// NewPicture is a picture without a frame that is at least so large.
func NewPicture(name string, least fyne.Size, g Gestures) *Picture {
	p := &Picture{Gestures: g, Name: name, least: least}
	p.raster = canvas.NewRaster(p.generate)
	p.ring = newRing()
	p.ExtendBaseWidget(p)
	return p
}

// Put shows a frame. The picture keeps it until the next one, so the caller must not draw over it before that.
func (p *Picture) Put(frame *image.RGBA) {
	p.frame, p.shown = frame, false
	p.raster.Refresh()
}

// Frame is what is shown, nil before the first.
func (p *Picture) Frame() *image.RGBA { return p.frame }

// Pixels is the size in which a frame fits pixel for pixel; zero while the picture is not on a window.
func (p *Picture) Pixels() image.Point {
	k := float32(p.Scale())
	return image.Pt(int(p.Size().Width*k+0.5), int(p.Size().Height*k+0.5))
}

// Pixel is where a place of the picture lies in its frame.
func (p *Picture) Pixel(at fyne.Position) (x, y int) {
	if p.frame == nil || p.Size().Width <= 0 || p.Size().Height <= 0 {
		return -1, -1
	}
	size := p.frame.Rect.Size()
	return int(at.X / p.Size().Width * float32(size.X)), int(at.Y / p.Size().Height * float32(size.Y))
}

// Scale is pixels a unit.
func (p *Picture) Scale() float64 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil && c.Scale() > 0 {
		return float64(c.Scale())
	}
	return 1
}

// generate hands the last frame to the painter: it never draws.
func (p *Picture) generate(w, h int) image.Image {
	if p.frame == nil {
		return image.NewUniform(color.Transparent)
	}
	if !p.shown {
		p.shown = true
		if p.Painted != nil {
			p.Painted()
		}
	}
	return p.frame
}

// MouseDown takes the focus and remembers the button: a drag does not tell it.
func (p *Picture) MouseDown(e *desktop.MouseEvent) {
	p.Focus()
	p.button, p.moved, p.from = e.Button, false, e.Position
	p.pan = e.Button != desktop.MouseButtonPrimary || e.Modifier&fyne.KeyModifierShift != 0
	p.carry = !p.pan && p.Taken != nil && p.Taken(e.Position)
}

// Focus sends the keys here.
func (p *Picture) Focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil && c.Focused() != fyne.Focusable(p) {
		c.Focus(p)
	}
}

const (
	doubleWithin = 400 * time.Millisecond
	doubleNear   = 6 // units
)

// MouseUp ends a click or, for the right button, a drag.
func (p *Picture) MouseUp(e *desktop.MouseEvent) {
	was := p.button
	p.button = 0
	if p.moved {
		if was == desktop.MouseButtonSecondary {
			p.rest()
		}
		return
	}
	p.letGo()
	if was == desktop.MouseButtonSecondary && p.Asked != nil {
		p.Asked(e.Position)
	}
	if was != desktop.MouseButtonPrimary || p.pan {
		return
	}
	now := time.Now()
	d := e.Position.Subtract(p.clicks.at)
	if now.Sub(p.clicks.when) < doubleWithin && d.X*d.X+d.Y*d.Y < doubleNear*doubleNear && p.Doubled != nil {
		p.clicks.when = time.Time{}
		p.Doubled(e.Position)
		return
	}
	p.clicks.at, p.clicks.when = e.Position, now
	if p.Clicked != nil {
		p.Clicked(e.Position)
	}
}

// Focused says whether the keys come here.
func (p *Picture) Focused() bool { return p.focused }

// Dragged turns, or pans where the hand says so.
func (p *Picture) Dragged(e *fyne.DragEvent) {
	if p.carry {
		p.moved = true
		p.Carried(e.Position)
		return
	}
	if from := e.Position.SubtractXY(e.Dragged.DX, e.Dragged.DY); !p.pan && p.Brushed != nil && p.Brushed(from, e.Position) {
		p.moved = true
		return
	}
	p.drag(e.Dragged.DX, e.Dragged.DY)
}

// letGo ends a carrying, if there is one, and reports whether there was.
func (p *Picture) letGo() bool {
	was := p.carry
	p.carry = false
	if was {
		p.Let(p.moved)
	}
	return was
}

func (p *Picture) drag(dx, dy float32) {
	p.moved = true
	switch {
	case p.pan && p.Panned != nil:
		p.Panned(dx, dy)
	case !p.pan && p.Turned != nil:
		p.Turned(dx, dy)
	}
}

// DragEnd is where the full picture is asked for.
func (p *Picture) DragEnd() {
	if !p.letGo() {
		p.rest()
	}
}

func (p *Picture) rest() {
	if p.Rested != nil {
		p.Rested()
	}
}

// MouseMoved drags with the right button, which the toolkit does not.
func (p *Picture) MouseMoved(e *desktop.MouseEvent) {
	if p.button == desktop.MouseButtonSecondary && p.Panned != nil {
		d := e.Position.Subtract(p.from)
		p.from = e.Position
		p.drag(d.X, d.Y)
		return
	}
	p.point(e.Position, true)
}

// MouseIn and MouseOut tell where the pointer is.
func (p *Picture) MouseIn(e *desktop.MouseEvent) { p.point(e.Position, true) }

// MouseOut tells that it has gone.
func (p *Picture) MouseOut() { p.point(fyne.Position{}, false) }

func (p *Picture) point(at fyne.Position, here bool) {
	if p.Pointed != nil {
		p.Pointed(at, here)
	}
}

// notch is what one notch of the wheel reports.
const notch = 25

// Scrolled zooms about the pointer.
func (p *Picture) Scrolled(e *fyne.ScrollEvent) {
	if p.Zoomed != nil && e.Scrolled.DY != 0 {
		p.Zoomed(e.Position, e.Scrolled.DY/notch)
	}
}

// TypedKey reports keys.
func (p *Picture) TypedKey(e *fyne.KeyEvent) {
	if p.Key != nil {
		p.Key(e.Name)
	}
}

// KeyDown and KeyUp tell of the shift keys, which TypedKey does not.
func (p *Picture) KeyDown(e *fyne.KeyEvent) { p.shift(e.Name, true) }

// KeyUp is the other half of KeyDown.
func (p *Picture) KeyUp(e *fyne.KeyEvent) { p.shift(e.Name, false) }

func (p *Picture) shift(k fyne.KeyName, on bool) {
	if p.Shifted != nil && (k == desktop.KeyShiftLeft || k == desktop.KeyShiftRight) {
		p.Shifted(on)
	}
}

// TypedRune reports signs.
func (p *Picture) TypedRune(r rune) {
	if p.Rune != nil {
		p.Rune(r)
	}
}

// FocusGained shows a ring.
func (p *Picture) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost takes it away.
func (p *Picture) FocusLost() { p.focused = false; p.Refresh() }

// MinSize is the least that was asked for.
func (p *Picture) MinSize() fyne.Size { return p.least }

// CreateRenderer is the toolkit's.
func (p *Picture) CreateRenderer() fyne.WidgetRenderer {
	ring := canvas.NewRectangle(color.Transparent)
	ring.StrokeWidth = 1
	return paper.Laid(&pictureRenderer{p: p, ring: ring, brush: container.NewClip(container.NewWithoutLayout(p.ring))}, p)
}

type pictureRenderer struct {
	p     *Picture
	ring  *canvas.Rectangle
	brush *container.Clip
}

func (r *pictureRenderer) Layout(s fyne.Size) {
	r.p.raster.Resize(s)
	r.ring.Resize(s)
	r.brush.Resize(s)
	if r.p.Sized != nil {
		r.p.Sized()
	}
}

func (r *pictureRenderer) MinSize() fyne.Size { return r.p.least }
func (r *pictureRenderer) Destroy()           {}
func (r *pictureRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.p.raster, r.brush, r.ring}
}

func (r *pictureRenderer) Refresh() {
	r.ring.StrokeColor = color.Transparent
	if r.p.focused {
		r.ring.StrokeColor = r.p.Theme().Color(theme.ColorNameFocus, fyne.CurrentApp().Settings().ThemeVariant())
	}
	r.ring.Refresh()
}
