package still

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"io"
	"slices"
)

// mostFilm bounds the pixels of all pictures of a film together, a byte each in memory.
const mostFilm = 200_000_000

// tried is how many of a film's pictures its palette is chosen from.
const tried = 6

// Film writes a turntable as an animated GIF that runs round for ever, once in so many seconds. progress, which may be nil,
// is told the share that is done. It returns ctx's error when called off, w's when it can't be written to, and one of its own
// for more pictures than memory should hold.
func Film(ctx context.Context, w io.Writer, t *Turntable, seconds float64, progress func(done float64)) error {
	size := t.scene.View.Size
	if t.frames*size.X*size.Y > mostFilm {
		return fmt.Errorf("%d pictures of %dx%d are too much for one film: fewer or smaller ones are wanted", t.frames, size.X, size.Y)
	}
	tries := min(tried, t.frames)
	step := func(done int) {
		if progress != nil {
			progress(float64(done) / float64(tries+t.frames))
		}
	}
	var met census
	for i := range tries {
		img, err := t.Frame(ctx, i*t.frames/tries)
		if err != nil {
			return err
		}
		met.add(img)
		step(i + 1)
	}
	reel := newReel(met.palette(), size, t.frames, seconds)
	for i := range t.frames {
		img, err := t.Frame(ctx, i)
		if err != nil {
			return err
		}
		reel.add(img)
		step(tries + i + 1)
	}
	return gif.EncodeAll(w, &reel.film)
}

// A reel takes pictures into a film.
type reel struct {
	palette *palette
	colours color.Palette
	film    gif.GIF
	last    []uint8
	delays  []int // hundredths of a second
}

// unchanged is the number for pixels that stay as they were.
const unchanged = 255

func newReel(p *palette, size image.Point, frames int, seconds float64) *reel {
	r := &reel{palette: p, colours: make(color.Palette, 256)}
	for i := range r.colours {
		r.colours[i] = color.RGBA{0, 0, 0, 255}
	}
	for i, c := range p.colours {
		r.colours[i] = c
	}
	r.colours[unchanged] = color.RGBA{}
	r.film.Config = image.Config{ColorModel: r.colours, Width: size.X, Height: size.Y}
	shown := 0
	for i := range frames { // hundredths add up to the whole, so that long films keep time
		until := max(shown+2, int(seconds*100*float64(i+1)/float64(frames)+0.5))
		r.delays = append(r.delays, until-shown)
		shown = until
	}
	return r
}

// add takes the next picture: only what changes, within the rectangle where anything does.
func (r *reel) add(img *image.RGBA) {
	next := r.palette.index(img)
	w, h := img.Rect.Dx(), img.Rect.Dy()
	part := image.NewPaletted(image.Rect(0, 0, w, h), r.colours)
	copy(part.Pix, next)
	if r.last != nil {
		box := image.Rectangle{}
		for i, v := range next {
			if v == r.last[i] {
				part.Pix[i] = unchanged
				continue
			}
			box = box.Union(image.Rect(i%w, i/w, i%w+1, i/w+1))
		}
		if box.Empty() {
			box = image.Rect(0, 0, 1, 1)
		}
		part = part.SubImage(box).(*image.Paletted)
		part = &image.Paletted{Pix: slices.Clone(part.Pix), Stride: part.Stride, Rect: part.Rect, Palette: part.Palette}
	}
	r.last = next
	r.film.Image = append(r.film.Image, part)
	r.film.Delay = append(r.film.Delay, r.delays[len(r.film.Delay)])
	r.film.Disposal = append(r.film.Disposal, gif.DisposalNone)
}
