package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"strings"

	"grainstack/app/picture"
	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/compass"
)

// A directionFlags is what only the search for a direction asks for.
type directionFlags struct {
	count   int
	weights string
}

// mostDirections bounds a search: 3 degrees apart.
const mostDirections = 2000

func bindDirections(set *flag.FlagSet) *directionFlags {
	f := &directionFlags{}
	set.IntVar(&f.count, "n", compass.UsualCount, "`N` directions to compare for the stack axis, besides those near the best")
	set.StringVar(&f.weights, "weights", "", "`WORDS` such as layers=1,trapped=2 that say what counts for the best direction")
	return f
}

// options are what the search wants to know.
func (f *directionFlags) options() (compass.Options, error) {
	if f.count < 1 || f.count > mostDirections {
		return compass.Options{}, &usageError{fmt.Sprintf("directions are from 1 to %d in number", mostDirections)}
	}
	w := compass.UsualWeights()
	if f.weights != "" {
		var err error
		if w, err = w.With(f.weights); err != nil {
			return compass.Options{}, &usageError{err.Error()}
		}
	}
	return compass.Options{Count: f.count, Weights: w}, nil
}

// A direction is a bearing as programs read it.
type direction struct {
	X           float64    `json:"x"` // in the piece's own frame: what becomes the stack axis, pointing up
	Y           float64    `json:"y"`
	Z           float64    `json:"z"`
	Layers      int        `json:"layers"`
	Trapped     float64    `json:"trapped_cm3"`
	TrappedCore float64    `json:"trapped_core_cm3"`
	Router      float64    `json:"router_min"`
	Panels      int        `json:"panels"`
	Weight      float64    `json:"weight_kg"`
	Joint       float64    `json:"joint_min_cm2"`
	Stripes     float64    `json:"stripe_share"`
	Tip         float64    `json:"tip_deg"`
	Unbeaten    bool       `json:"unbeaten"`
	Residue     float64    `json:"residue_cm3"`
	Rings       float64    `json:"ring_share"`
	Whole       int        `json:"whole_cut"`
	Score       float64    `json:"score"`    // by the weights, 0 for the best in everything
	Turn        [3]float64 `json:"turn_deg"` // as -turn takes it
	Now         bool       `json:"now"`      // the stand that the flags or the job have
}

// A directionList is what the command prints.
type directionList struct {
	Directions []direction        `json:"directions"`
	Best       direction          `json:"best"`
	Unbeaten   []direction        `json:"unbeaten"`
	Weights    map[string]float64 `json:"weights"`
	Thinned    float64            `json:"thinned_mm"` // between the piece and the surface that figures are taken from, at the most
}

// directions prints how the stack could run through a piece or a job, as JSON.
func directions(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("directions")
	stackWords, own := bindStack(set), bindDirections(set)
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	o, err := own.options()
	if err != nil {
		return err
	}
	m, err := compare(ctx, words, stackWords, o)
	if err != nil {
		return err
	}
	return printJSON(out, listDirections(m, o.Weights))
}

func listDirections(m *compass.Map, w compass.Weights) directionList {
	l := directionList{Directions: make([]direction, len(m.Bearings)), Unbeaten: []direction{}, Weights: map[string]float64{}, Thinned: m.Moved}
	for k, v := range w {
		l.Weights[compass.Measure(k).Key()] = v
	}
	free, scores := m.Unbeaten(w), m.Score(w)
	for i := range m.Bearings {
		l.Directions[i] = newDirection(&m.Bearings[i])
		l.Directions[i].Unbeaten, l.Directions[i].Score = free[i], scores[i]
		if free[i] {
			l.Unbeaten = append(l.Unbeaten, l.Directions[i])
		}
	}
	if best, ok := m.Best(w); ok {
		l.Best = l.Directions[best]
	}
	return l
}

func newDirection(b *compass.Bearing) direction {
	const cm3, cm2 = 1e-3, 1e-2
	d := direction{
		X: b.Up.X, Y: b.Up.Y, Z: b.Up.Z, Layers: b.Layers, Trapped: b.Trapped * cm3, TrappedCore: b.TrappedCore * cm3,
		Router: b.RouterMin, Panels: b.Panels, Weight: b.WeightKg, Joint: b.JointMin * cm2, Stripes: b.StripeShare, Tip: b.TipDeg,
		Residue: b.Residue * cm3, Rings: b.RingShare, Whole: b.WholeCut, Now: b.Now,
	}
	d.Turn[0], d.Turn[1], d.Turn[2] = b.Turn.Degrees()
	for k := range d.Turn {
		d.Turn[k] = math.Round(d.Turn[k]*1e4) / 1e4
	}
	return d
}

// compare opens the one piece that is named and compares its directions.
func compare(ctx context.Context, words []string, flags *stackFlags, o compass.Options) (*compass.Map, error) {
	b, err := openPiece(ctx, words, flags)
	if err != nil {
		return nil, err
	}
	return compass.Search(ctx, b.piece, b.settings, b.catalogue, o, nil)
}

// drawDirections draws the map of directions.
func (f *pictureFlags) drawDirections(ctx context.Context, words []string, stackWords *stackFlags, out io.Writer) error {
	o, err := f.directions.options()
	if err != nil {
		return err
	}
	of, ok := compass.MeasureNamed(f.measure)
	if !ok {
		return &usageError{fmt.Sprintf("there is no measure %q: the measures are %s", f.measure, compass.Keys())}
	}
	style, err := f.style()
	if err != nil {
		return err
	}
	m, err := compare(ctx, words, stackWords, o)
	if err != nil {
		return err
	}
	v := picture.Compass(m, of, o.Weights, style.Units)
	if len(v.Best) > 0 {
		best, now := picture.Bearing(&m.Bearings[v.Best[0]], style.Units), picture.Bearing(&m.Bearings[0], style.Units)
		v.Notes = []string{"1: " + strings.Join(best[:], " · "), "as it stands: " + strings.Join(now[:], " · ")}
	}
	w, h := float64(f.size.a), float64(f.size.b)
	return writePNG(f.to, draw.NewRaster(style.Letters).Picture(sheet.Compass(v, style, w, h).Drawing, 1), out)
}
