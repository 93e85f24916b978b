package main

import (
	"context"
	"fmt"
	"image"
	"io"
	"io/fs"
	"math"
	"slices"

	"grainstack/app/files"
	"grainstack/app/picture"
	"grainstack/assets"
	"grainstack/render/draw"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/trial"
)

// compare works out a job and its trials.
func (b *bench) compare(ctx context.Context) ([]picture.Compared, error) {
	known := []trial.Tried{{Piece: b.standing.Piece, Grid: b.standing.Grid, How: b.settings.Mending()}}
	return picture.Compare(ctx, b.standing.Piece, b.settings, b.trials, b.catalogue, known)
}

// compared is what the work book sets side by side: nothing where no book is wanted or the job has no trials.
func (f *makeFlags) compared(ctx context.Context, b *bench) ([]picture.Compared, error) {
	kinds, err := files.ParseKinds(f.only)
	if err != nil || len(b.trials) == 0 || f.list || !slices.Contains(kinds, files.Book) {
		return nil, err
	}
	return b.compare(ctx)
}

// trials draws a job and its first trials side by side.
func (f *pictureFlags) trials(ctx context.Context, b *bench, out io.Writer) error {
	if len(b.trials) == 0 {
		return fmt.Errorf("the job has no trials: keep some in the window first")
	}
	letters, err := draw.LoadLetters(fs.FS(assets.FS))
	if err != nil {
		return err
	}
	all, err := b.compare(ctx)
	if err != nil {
		return err
	}
	if groups := files.Groups(all); len(groups) > 0 {
		all = groups[0]
	}
	style := sheet.Style{Ink: draw.LightInk(), Letters: letters}
	if f.dark {
		style.Ink = draw.DarkInk()
	}
	const rad = math.Pi / 180
	view := picture.ShelfView{
		Camera: look.Camera{Azimuth: f.azimuth.v * rad, Elevation: f.elevation.v * rad, Zoom: 1},
		Size:   image.Pt(f.size.a, f.size.b), Scale: 1, Style: style, Dark: f.dark, Fine: true,
	}
	drawn, _, err := picture.NewShelf(b.catalogue, letters).Draw(ctx, all, picture.ComparisonOf(all, all[0], b.catalogue, style.Units), view)
	if err != nil {
		return err
	}
	return writePNG(f.to, drawn.Image, out)
}
