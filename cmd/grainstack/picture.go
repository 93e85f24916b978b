package main

import (
	"context"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io"
	"io/fs"
	"slices"
	"strings"

	"grainstack/app/files"
	"grainstack/app/picture"
	"grainstack/assets"
	"grainstack/render/draw"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/disk"
	"grainstack/slicing/export"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A pictureFlags is what only pictures ask for.
type pictureFlags struct {
	view, to           string
	layer              int
	size               pair
	azimuth, elevation decimal
	lift               length
	cut, dark, marks   bool
	colours            bool
	light, ground      string
	frames             int
	seconds            decimal
	measure            string
	directions         *directionFlags
}

func bindPicture(set *flag.FlagSet) *pictureFlags {
	f := &pictureFlags{size: pair{a: 900, b: 700, sep: "x"}, azimuth: decimal{v: -60}, elevation: decimal{v: 18}}
	set.StringVar(&f.view, "view", "finished", "`VIEW` to draw: "+strings.Join(viewNames(), ", ")+" or, of a job, trials")
	set.StringVar(&f.to, "o", "", "`FILE` to write the picture to, as PNG; a turntable as GIF, or to a folder")
	set.IntVar(&f.layer, "layer", 1, "`N` of the picked layer, 1 at the bottom")
	set.Var(&f.size, "size", "`WxH` of the picture in pixels")
	set.Var(&f.azimuth, "azimuth", "`DEG` from which side the finished piece is seen (-60 where nothing is said)")
	set.Var(&f.elevation, "elevation", "`DEG` from how high it is seen (18 where nothing is said)")
	set.Var(&f.lift, "lift", "`MM` of air between the layers of the finished piece")
	set.BoolVar(&f.cut, "cut-away", false, "take off what lies above the picked layer")
	set.BoolVar(&f.colours, "colours", false, "show the scan's own colours on the finished piece, where its file holds them")
	set.BoolVar(&f.dark, "dark", false, "draw on dark paper")
	set.BoolVar(&f.marks, "marks", false, "show in red where the cutters fall short: rings, and maps of the wood that stays")
	f.bindStill(set)
	set.StringVar(&f.measure, "measure", "trapped", "`MEASURE` that the view of directions shows, named as for -weights")
	return f
}

// mostPixels bounds a picture's width and height.
const mostPixels = 8000

func (f *pictureFlags) check() error {
	if f.to == "" {
		return &usageError{"name the file to draw to with -o FILE.png"}
	}
	if f.view == "still" || f.view == "turntable" {
		return f.checkStill()
	}
	if f.view != "trials" && !slices.Contains(viewNames(), f.view) {
		return &usageError{fmt.Sprintf("the view is %s or trials, not %q", strings.Join(viewNames(), ", "), f.view)}
	}
	if f.size.a < 1 || f.size.b < 1 || f.size.a > mostPixels || f.size.b > mostPixels {
		return &usageError{fmt.Sprintf("a picture is from 1x1 to %dx%d pixels", mostPixels, mostPixels)}
	}
	return f.checkLight()
}

// drawPicture draws one view of a piece or a job.
func drawPicture(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("picture")
	stackWords, own := bindStack(set), bindPicture(set)
	own.directions = bindDirections(set)
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if err := own.check(); err != nil {
		return err
	}
	if err := own.free(stackWords.inputs(words)...); err != nil {
		return err
	}
	if own.view == "directions" {
		return own.drawDirections(ctx, words, stackWords, out)
	}
	b, err := open(ctx, words, stackWords)
	if err != nil {
		return err
	}
	if err := own.free(b.piece.File); err != nil {
		return err
	}
	if own.view == "trials" {
		return own.trials(ctx, b, out)
	}
	f, err := job.Settle(ctx, b.standing, b.settings, b.catalogue)
	if err != nil {
		return err
	}
	if own.view == "still" || own.view == "turntable" {
		return own.photograph(ctx, b, f, out)
	}
	if own.view != "finished" || own.cut {
		if n := len(f.Layers); n > 0 && (own.layer < 1 || own.layer > n) {
			return fmt.Errorf("there is no layer %d: the stack has %d layers", own.layer, n)
		}
	}
	var reached *job.Reached
	if own.marks && f.Withheld.None() {
		if reached, err = workshop.Reach(ctx, b.standing, f, b.catalogue, nil); err != nil {
			return err
		}
		f = reached.Onto(f)
	}
	img, err := own.draw(ctx, b, f, reached)
	if err != nil {
		return err
	}
	return writePNG(own.to, img, out)
}

// A view draws a piece with its settled figures; reached is nil where no marks are wanted.
type view struct {
	name string
	draw func(f *pictureFlags, ctx context.Context, b *bench, fig *job.Figures, reached *job.Reached) (image.Image, error)
}

// views are those of a piece with its figures.
func views() []view {
	return []view{{"finished", (*pictureFlags).finished}, {"layer", (*pictureFlags).layerSheet}, {"stick", (*pictureFlags).stick}}
}

// viewNames are all that a piece can be drawn as: the views, and what is made of more or in another way.
func viewNames() (names []string) {
	for _, v := range views() {
		names = append(names, v.name)
	}
	return append(names, "directions", "still", "turntable")
}

// draw draws the view that was asked for.
func (f *pictureFlags) draw(ctx context.Context, b *bench, fig *job.Figures, reached *job.Reached) (image.Image, error) {
	all := views()
	return all[slices.IndexFunc(all, func(v view) bool { return v.name == f.view })].draw(f, ctx, b, fig, reached)
}

// stick is the story stick.
func (f *pictureFlags) stick(_ context.Context, b *bench, fig *job.Figures, _ *job.Reached) (image.Image, error) {
	v := picture.Stick(b.standing, fig, b.catalogue, f.layer)
	if len(fig.Layers) == 0 {
		v.Message = fig.Withheld.String()
	}
	return f.sheet(func(style sheet.Style, w, h float64) *draw.Drawing { return sheet.Stick(v, style, w, h).Drawing })
}

// layerSheet is the picked layer.
func (f *pictureFlags) layerSheet(ctx context.Context, b *bench, fig *job.Figures, reached *job.Reached) (image.Image, error) {
	v := sheet.LayerView{Message: fig.Withheld.String()}
	if len(fig.Layers) > 0 {
		plan, err := job.Plan(ctx, b.standing, fig, f.layer)
		if err != nil {
			return nil, err
		}
		made, err := workshop.PartsOf(ctx, fig, f.layer)
		if err != nil {
			return nil, err
		}
		v = picture.Layer(plan, fig, made, false)
		v.Notes = picture.Facts(plan, fig, made, b.catalogue, unit.Metric)
		if reached != nil {
			v = picture.WithReached(v, reached)
		}
	}
	return f.sheet(func(style sheet.Style, w, h float64) *draw.Drawing {
		return sheet.Layer(v, style, w, h, sheet.Look{}).Drawing
	})
}

// sheet is a sheet in pixels, drawn to a width and a height.
func (f *pictureFlags) sheet(drawn func(style sheet.Style, w, h float64) *draw.Drawing) (image.Image, error) {
	style, err := f.style()
	if err != nil {
		return nil, err
	}
	return draw.NewRaster(style.Letters).Picture(drawn(style, float64(f.size.a), float64(f.size.b)), 1), nil
}

// style is the paper and the letters of every sheet.
func (f *pictureFlags) style() (sheet.Style, error) {
	letters, err := draw.LoadLetters(fs.FS(assets.FS))
	style := sheet.Style{Ink: draw.LightInk(), Letters: letters}
	if f.dark {
		style.Ink = draw.DarkInk()
	}
	return style, err
}

func (f *pictureFlags) finished(ctx context.Context, b *bench, fig *job.Figures, reached *job.Reached) (image.Image, error) {
	s := f.scene(b, fig)
	if reached != nil {
		s.Dress.Marks, s.Dress.Stain = picture.Marks(fig.Cautions), picture.Stain(reached, fig)
	}
	drawn, err := look.NewRenderer().Fine(ctx, s.Body, s.View, s.Dress)
	if err != nil {
		return nil, err
	}
	return drawn.Image, nil
}

// writePNG writes a picture wholly or not at all.
func writePNG(name string, img image.Image, out io.Writer) error {
	if err := disk.Write(name, func(w io.Writer) error { return png.Encode(w, img) }); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "%s: %d x %d pixels\n", phrase.Name(name), img.Bounds().Dx(), img.Bounds().Dy())
	return err
}

// free says why the picture can't be written where it shall go: nothing but a file or a folder of its own is written over, and
// nothing that it is drawn from.
func (f *pictureFlags) free(inputs ...string) error {
	if f.view == "turntable" && !files.IsFilm(f.to) {
		return export.CheckFolder(f.to)
	}
	return disk.Free(f.to, inputs...)
}
