package swatch

import (
	"image"

	"grainstack/render/frame"
	"grainstack/render/tone"
)

// A Fit is how a photo lies in a picture of another size: as large as it goes, in the middle.
type Fit struct {
	photo image.Point
	scale float64 // pixels of the picture along one of the file
	at    [2]float64
}

// fitIn is the fit of a photo in a picture.
func (p *Photo) fitIn(size image.Point) Fit {
	f := Fit{photo: p.size, scale: min(float64(size.X)/float64(p.size.X), float64(size.Y)/float64(p.size.Y))}
	f.at = [2]float64{(float64(size.X) - f.scale*float64(p.size.X)) / 2, (float64(size.Y) - f.scale*float64(p.size.Y)) / 2}
	return f
}

// Scale is pixels of the picture along one of the photo.
func (f Fit) Scale() float64 { return f.scale }

// Place is the pixel of the file under a place of the picture; ok is false beside the photo.
func (f Fit) Place(x, y float64) (at image.Point, ok bool) {
	if !(f.scale > 0) {
		return at, false
	}
	u, v := (x-f.at[0])/f.scale, (y-f.at[1])/f.scale
	if !(u >= 0 && v >= 0) {
		return at, false
	}
	at = image.Pt(int(u), int(v))
	return at, at.In(image.Rectangle{Max: f.photo})
}

// Back is where a pixel of the file lies in the picture.
func (f Fit) Back(at image.Point) (x, y float64) {
	return f.at[0] + (float64(at.X)+0.5)*f.scale, f.at[1] + (float64(at.Y)+0.5)*f.scale
}

// Draw draws the photo under a balance into a frame; what is beside it stays clear.
func (p *Photo) Draw(to *frame.Frame, b Balance) Fit {
	img := to.Image
	f := p.fitIn(img.Rect.Size())
	clear(img.Pix)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			at, ok := f.Place(float64(x)+0.5, float64(y)+0.5)
			if !ok {
				continue
			}
			l := p.light[min(at.Y/p.step, p.h-1)*p.w+min(at.X/p.step, p.w-1)]
			if l[0] < 0 {
				continue
			}
			l = b.of(l)
			o := img.Pix[img.PixOffset(x, y):]
			o[0], o[1], o[2], o[3] = tone.Byte(l[0]), tone.Byte(l[1]), tone.Byte(l[2]), 255
		}
	}
	return f
}
