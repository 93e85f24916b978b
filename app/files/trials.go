package files

import (
	"context"
	"image"
	"math"

	"grainstack/app/picture"
	"grainstack/render/book"
	"grainstack/render/look"
)

// besidePage is how many stacks go on a page of the work book; the first of each page is the job itself.
const besidePage = 4

// trialSide is the side of a trial's picture in the work book, pixels.
const trialSide = 480

// Groups are stacks in groups for one page each, the first stack leading every group.
func Groups(all []picture.Compared) [][]picture.Compared {
	var out [][]picture.Compared
	for from := 1; from < len(all); from += besidePage - 1 {
		group := append([]picture.Compared{all[0]}, all[from:min(len(all), from+besidePage-1)]...)
		out = append(out, group)
	}
	return out
}

// trials are the pages of comparison.
func (b *bench) trials(ctx context.Context) ([]book.Trials, error) {
	shelf := picture.NewShelf(b.Catalogue, b.Letters)
	const rad = math.Pi / 180
	camera := look.Camera{Azimuth: -60 * rad, Elevation: 18 * rad, Zoom: 1}
	var out []book.Trials
	for _, group := range Groups(b.Compared) {
		page := book.Trials{View: picture.ComparisonOf(group, group[0], b.Catalogue, b.Units), Pictures: make([]image.Image, len(group))}
		err := shelf.Pictures(ctx, group, camera, image.Pt(trialSide, trialSide), func(i int, img *image.RGBA) error {
			page.Pictures[i] = img
			return nil
		})
		if err != nil {
			return nil, err
		}
		out = append(out, page)
	}
	return out, nil
}
