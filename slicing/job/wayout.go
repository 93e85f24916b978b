package job

import (
	"context"
	"fmt"

	"grainstack/slicing/carve"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// A WayOut is other settings that make something better, with what they cost.
type WayOut struct {
	Kind     carve.Kind // of the findings that it is out of
	Whole    bool       // it is out of joints through what shall stay whole, whatever Kind says
	Text     string     // what to do and what it does
	Settings Settings

	TrappedBefore, Trapped float64 // mm³ outside the piece, on columns 1 mm apart
	RouterMin, WeightKg    float64 // differences from the present settings, both as Instant estimates them
	Layers, Panels         int
}

// worthIt is the share that a way out has to take away of what it is out of, to be named.
const worthIt = 0.2

// WaysOut looks for what would help a stack: the tilt, the layer thickness, the board and the first joint that trap least;
// the first joint that leaves fewest thin, small and loose places; the ball that fits where the present one leaves wood; the
// cutter that is long enough; the wall that keeps the rings of wood as wide as wanted, and the one that leaves every layer
// hollow; the first joint that goes through less of what shall stay whole. Searches compare stands on a thinned piece; what
// is named is measured on the piece itself and priced by Instant.
// f and r are of this standing and of the same settings. It takes a second or two and looks at ctx on its way.
func WaysOut(ctx context.Context, st *Standing, f *Figures, r *Reached, c *stock.Catalogue) ([]WayOut, error) {
	if f.Withheld != "" || r == nil {
		return nil, nil
	}
	w := &wayfinder{st: st, figures: f, thin: thinner(st.Piece), s: f.For, r: r, c: c}
	var err error
	if w.now, err = Instant(ctx, st, w.s, c); err != nil {
		return nil, err
	}
	if w.before, err = w.measure(ctx, st, w.s); err != nil {
		return nil, err
	}
	searches := []func(context.Context) error{w.whole, w.fit, w.longer, w.handle, w.rims, w.open}
	if r.has(carve.TrappedAir) {
		searches = append([]func(context.Context) error{w.tilt, w.thickness, w.board, w.joint}, searches...)
	}
	for _, search := range searches {
		if err := search(ctx); err != nil {
			return nil, err
		}
	}
	return w.out, ctx.Err()
}

// has reports whether there are findings of one of the kinds.
func (r *Reached) has(kinds ...carve.Kind) bool { return r.count(kinds...) > 0 }

func (r *Reached) count(kinds ...carve.Kind) int { return countOf(r.Findings, kinds) }

func countOf(list []carve.Finding, kinds []carve.Kind) int {
	n := 0
	for _, f := range list {
		for _, k := range kinds {
			if f.Kind == k {
				n++
			}
		}
	}
	return n
}

// A wayfinder is a search for ways out.
type wayfinder struct {
	st      *Standing
	thin    *mesh.Mesh // the piece, thinned out for comparing
	s       Settings   // as they are
	r       *Reached
	c       *stock.Catalogue
	figures *Figures // settled, as given
	now     *Figures // what Instant makes of them
	before  float64  // mm³ that they trap
	out     []WayOut
}

// compareCells is how many cells the mesh for comparing has along the piece's longest side: about as fine as the columns
// that it is compared on.
const compareCells = 150

// thinner is a piece thinned out for comparing.
func thinner(p *Piece) *mesh.Mesh {
	size := p.Findings.Size
	if len(p.Thin.Triangles) <= 4*compareCells*compareCells {
		return p.Thin
	}
	return mesh.Thin(p.Thin, max(size.X, size.Y, size.Z)/compareCells)
}

// standAt is the standing that settings want.
func (w *wayfinder) standAt(ctx context.Context, s Settings) (*Standing, error) {
	if s.Stand() == w.st.Stand {
		return w.st, ctx.Err()
	}
	st, err := Stand(ctx, w.st.Piece, s.Stand())
	if err != nil || w.st.Grid == nil {
		return st, err
	}
	return st.WithField(ctx, w.st.Grid)
}

// measure is what settings trap outside the piece, mm³.
func (w *wayfinder) measure(ctx context.Context, st *Standing, s Settings) (float64, error) {
	t := s.LayerThickness(w.c)
	slabs, err := stack.Layers(st.Height(), t, s.firstJoint(t))
	if err != nil {
		return 0, err
	}
	layers, err := carve.Reach(ctx, st.Placed.Mesh, slabs, carve.Options{Step: carve.DragStep, Thickness: t})
	sum := 0.0
	for i := range layers {
		sum += layers[i].Outside.Volume
	}
	return sum, err
}

// trapped is about what settings trap, mm³: good for comparing.
func (w *wayfinder) trapped(ctx context.Context, s Settings) (float64, error) {
	t := s.LayerThickness(w.c)
	return carve.TrappedQuick(ctx, w.thin, s.Stand(), t, s.firstJoint(t), carve.QuickStep)
}

// compare is about what each of some settings traps.
func (w *wayfinder) compare(ctx context.Context, list []Settings) ([]float64, error) {
	got, faults := make([]float64, len(list)), make([]error, len(list))
	if err := par.Spans(ctx, len(list), 1, func(i, _ int) { got[i], faults[i] = w.trapped(ctx, list[i]) }); err != nil {
		return nil, err
	}
	for _, err := range faults {
		if err != nil {
			return nil, err
		}
	}
	return got, nil
}

// offer keeps settings that trap less by enough; text says what to do.
func (w *wayfinder) offer(ctx context.Context, s Settings, text string) error {
	st, err := w.standAt(ctx, s)
	if err != nil {
		return err
	}
	after, err := w.measure(ctx, st, s)
	if err != nil || after > (1-worthIt)*w.before {
		return err
	}
	text += ": "
	if after < w.s.limits().Trapped {
		text += fmt.Sprintf("nothing stays out of reach, instead of %s", volumeWords(w.before))
	} else {
		text += fmt.Sprintf("%s stay out of reach instead of %s", volumeWords(after), volumeWords(w.before))
	}
	return w.price(ctx, st, WayOut{Kind: carve.TrappedAir, Text: text, Settings: s, TrappedBefore: w.before, Trapped: after})
}

// price adds what a way out costs, and keeps it; settings that can't be worked with are left out.
func (w *wayfinder) price(ctx context.Context, st *Standing, o WayOut) error {
	f, err := Instant(ctx, st, o.Settings, w.c)
	if err != nil || f.Withheld != "" {
		return err
	}
	o.RouterMin = f.Totals.RouterMin() - w.now.Totals.RouterMin()
	o.WeightKg = f.Totals.WeightKg - w.now.Totals.WeightKg
	o.Layers = len(f.Layers) - len(w.now.Layers)
	o.Panels = f.Totals.Panels - w.now.Totals.Panels
	w.out = append(w.out, o)
	return nil
}

// priceHere is price for settings that leave the piece and the joints where they are.
func (w *wayfinder) priceHere(ctx context.Context, kind carve.Kind, s Settings, text string) error {
	return w.price(ctx, w.st, WayOut{Kind: kind, Text: text, Settings: s, TrappedBefore: w.before, Trapped: w.before})
}
