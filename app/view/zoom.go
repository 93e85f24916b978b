package view

import (
	"math"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

const zoomSpeed = 1.18 // a notch of the wheel

// A plan is how a sheet is zoomed and moved by hand.
type plan struct {
	Look        sheet.Look
	least, most float64
	home        func() geom.Vec2 // where the plan's middle lies when it fits
}

// heed has a pane's wheel, drags and keys zoom and move its plan.
func (l *plan) heed(d Desk, p *pane.Picture) {
	p.Turned = func(dx, dy float32) {
		l.Look.PanX, l.Look.PanY = l.Look.PanX+float64(dx), l.Look.PanY+float64(dy)
		d.Changed()
	}
	p.Panned = p.Turned
	zoom := func(at fyne.Position, notches float32) {
		l.zoom(geom.Vec2{X: float64(at.X), Y: float64(at.Y)}, notches)
		d.Changed()
	}
	p.Zoomed = zoom
	fit := func(fyne.Position) {
		l.Look = sheet.Look{}
		d.Changed()
	}
	p.Doubled = fit
	others := p.Key
	p.Key = func(k fyne.KeyName) {
		middle := fyne.NewPos(p.Size().Width/2, p.Size().Height/2)
		switch k {
		case fyne.KeyPlus, fyne.KeyEqual:
			zoom(middle, 1)
		case fyne.KeyMinus:
			zoom(middle, -1)
		case fyne.KeyHome:
			fit(middle)
		default:
			others(k)
		}
	}
}

// zoom zooms so that what is under the pointer stays there.
func (l *plan) zoom(at geom.Vec2, notches float32) {
	zoom := l.Look.Zoom
	if zoom <= 0 {
		zoom = 1
	}
	next := max(l.least, min(l.most, zoom*math.Pow(zoomSpeed, float64(notches))))
	from := at.Sub(l.home())
	pan := from.Sub(from.Sub(geom.Vec2{X: l.Look.PanX, Y: l.Look.PanY}).Scale(next / zoom))
	l.Look = sheet.Look{Zoom: next, PanX: pan.X, PanY: pan.Y}
}

// A Camera is the viewer of the finished piece, and of trials side by side.
type Camera struct{ look.Camera }

const (
	leastZoom = 0.2
	mostZoom  = 60
)

// Swing moves the viewer round the piece and up, radians.
func (c *Camera) Swing(round, up float64) {
	c.Azimuth = math.Mod(c.Azimuth+round, 2*math.Pi)
	c.Elevation = max(-math.Pi/2, min(math.Pi/2, c.Elevation+up))
}

// pan moves the piece in a picture whose shorter side is so long.
func (c *Camera) pan(dx, dy float32, side float64) {
	if side > 0 {
		c.PanX += float64(dx) / side
		c.PanY -= float64(dy) / side
	}
}

// zoomAt zooms so that what lies at a place stays there; x to the right and y up from the picture's middle, as shares of its
// shorter side.
func (c *Camera) zoomAt(x, y float64, notches float32) {
	next := max(leastZoom, min(mostZoom, c.Zoom*math.Pow(zoomSpeed, float64(notches))))
	k := next / c.Zoom
	c.PanX, c.PanY, c.Zoom = x-(x-c.PanX)*k, y-(y-c.PanY)*k, next
}

// Rolled is a turn of the piece as the viewer sees it, to the right and downwards, radians.
func (c *Camera) Rolled(right, down float64) geom.Turn {
	se, ce := math.Sincos(c.Elevation)
	sa, ca := math.Sincos(c.Azimuth)
	across := geom.Vec{X: -sa, Y: ca}
	up := geom.Vec{X: -se * ca, Y: -se * sa, Z: ce}
	return geom.TurnAbout(up, right).Then(geom.TurnAbout(across, down))
}
