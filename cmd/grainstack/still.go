package main

import (
	"context"
	"flag"
	"fmt"
	"image"
	"io"
	"math"

	"grainstack/app/files"
	"grainstack/app/picture"
	"grainstack/render/look"
	"grainstack/render/still"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
)

// bindStill adds the flags of light, ground, stills and turntables.
func (f *pictureFlags) bindStill(set *flag.FlagSet) {
	set.StringVar(&f.to, "out", "", "`FILE` the same as -o")
	set.StringVar(&f.light, "light", "window", "`LIGHT` on the finished piece: window, spot or overcast")
	set.StringVar(&f.ground, "ground", "paper", "`GROUND` under the finished piece: paper, floor or plinth")
	_, frames, seconds := still.UsualTurn()
	set.IntVar(&f.frames, "frames", frames, "`N` pictures of a turntable")
	f.seconds.v = seconds
	set.Var(&f.seconds, "seconds", "`S` that a turntable takes to go round")
}

const (
	leastSeconds = 0.5
	mostSeconds  = 600
)

func (f *pictureFlags) checkStill() error {
	if f.cut || f.marks || f.lift.mm != 0 {
		return &usageError{"a still and a turntable show the finished piece: leave out -cut-away, -lift and -marks"}
	}
	if !f.size.set {
		size := still.UsualSize()
		if f.view == "turntable" {
			size, _, _ = still.UsualTurn()
		}
		f.size.a, f.size.b = size.X, size.Y
	}
	switch {
	case f.size.a < 1 || f.size.b < 1 || f.size.a > still.Largest || f.size.b > still.Largest:
		return &usageError{fmt.Sprintf("a still is from 1x1 to %dx%d pixels", still.Largest, still.Largest)}
	case f.frames < 1 || f.frames > still.MostFrames:
		return &usageError{fmt.Sprintf("a turntable has from 1 to %d pictures", still.MostFrames)}
	case !(f.seconds.v >= leastSeconds && f.seconds.v <= mostSeconds):
		return &usageError{fmt.Sprintf("a turntable takes from %g to %d seconds to go round", leastSeconds, mostSeconds)}
	}
	return f.checkLight()
}

func (f *pictureFlags) checkLight() error {
	if _, ok := picture.LightOf(f.light); !ok {
		return &usageError{fmt.Sprintf("the light is window, spot or overcast, not %q", f.light)}
	}
	if _, ok := picture.GroundOf(f.ground); !ok {
		return &usageError{fmt.Sprintf("the ground is paper, floor or plinth, not %q", f.ground)}
	}
	return nil
}

// scene is the finished piece as the flags have it.
func (f *pictureFlags) scene(b *bench, fig *job.Figures) still.Scene {
	body := look.NewBody(b.standing.Piece.Mesh)
	if b.standing.Grid != nil {
		body = body.WithOpenness(b.standing.Grid.Openness(b.standing.Piece.Mesh.Points, nil))
	}
	const rad = math.Pi / 180
	sight := picture.Sight{
		Camera: look.Camera{Azimuth: f.azimuth.v * rad, Elevation: f.elevation.v * rad, Zoom: 1},
		Size:   image.Pt(f.size.a, f.size.b), CutAway: f.cut, Lift: f.lift.mm, Layer: f.layer,
	}
	sight.Ground, _ = picture.GroundOf(f.ground)
	dress := look.Dress{Wood: picture.Wood(fig, b.catalogue), Paper: picture.Paper(f.dark)}
	dress.Woods, dress.Layers = picture.Mixed(fig.For, b.catalogue, b.standing.Height())
	dress.Light, _ = picture.LightOf(f.light)
	if f.colours {
		dress.Seen = b.standing.Piece.Raw.Colours.On(b.standing.Piece.Mesh)
	}
	return still.Scene{Body: body, View: picture.View(b.standing, fig, sight), Dress: dress}
}

// photograph draws a still or a turntable and writes it.
func (f *pictureFlags) photograph(ctx context.Context, b *bench, fig *job.Figures, out io.Writer) error {
	s := f.scene(b, fig)
	if f.view == "still" {
		if err := files.SaveStill(ctx, s, f.to, nil); err != nil {
			return err
		}
		_, err := fmt.Fprintf(out, "%s: %d x %d pixels\n", phrase.Name(f.to), f.size.a, f.size.b)
		return err
	}
	if err := files.SaveTurntable(ctx, s, f.to, f.frames, f.seconds.v, nil); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "%s: %d pictures of %d x %d pixels\n", phrase.Name(f.to), f.frames, f.size.a, f.size.b)
	return err
}
