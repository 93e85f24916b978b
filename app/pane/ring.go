package pane

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

func newRing() *canvas.Circle {
	c := canvas.NewCircle(color.Transparent)
	c.StrokeWidth = 1.5
	c.Hide()
	return c
}

// Ring draws a ring round a place of the picture, to show how wide a brush is; radius is in the toolkit's units, 0 takes it away.
func (p *Picture) Ring(at fyne.Position, radius float32) {
	if radius <= 0 {
		if p.ring.Visible() {
			p.ring.Hide()
		}
		return
	}
	p.ring.StrokeColor = p.Theme().Color(theme.ColorNameForeground, fyne.CurrentApp().Settings().ThemeVariant())
	p.ring.Resize(fyne.NewSquareSize(2 * radius))
	p.ring.Move(at.SubtractXY(radius, radius))
	if !p.ring.Visible() {
		p.ring.Show()
	}
	p.ring.Refresh()
}
