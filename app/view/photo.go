package view

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/state"
	"grainstack/render/frame"
	"grainstack/render/swatch"
)

// A PhotoAsk asks for a photo as it is to be shown; it is its own key.
type PhotoAsk struct {
	Photo   *swatch.Photo
	Balance swatch.Balance
	Size    image.Point
}

// A Photo is a photo of a board; what comes with its picture is how it lies in it.
type Photo struct {
	*View[PhotoAsk, PhotoAsk, swatch.Fit]
}

// NewPhoto is a photo in a pane with gestures.
func NewPhoto(d Desk, g pane.Gestures) *Photo {
	p := pane.NewPicture("photo", fyne.NewSize(240, 180), g)
	drawer := func() Draw[PhotoAsk, swatch.Fit] {
		pool := &frame.Pool{}
		return func(_ context.Context, a PhotoAsk) (*frame.Frame, swatch.Fit, error) {
			f := pool.Get(a.Size)
			return f, a.Photo.Draw(f, a.Balance), nil
		}
	}
	return &Photo{newView[PhotoAsk](d, p, drawer, nil)}
}

// Ask asks for a photo under a balance.
func (p *Photo) Ask(photo *swatch.Photo, b swatch.Balance) {
	if size := p.Pixels(); size.X > 1 && size.Y > 1 {
		a := PhotoAsk{photo, b, size}
		p.want(state.Asking{}, a, a, false)
	}
}
