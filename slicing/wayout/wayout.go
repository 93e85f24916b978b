// Package wayout looks for settings that do better by what was found: undercuts, places that the cutters don't reach or fit into,
// thin wood, joints through what shall stay whole. Each way out is measured on the piece itself and priced. Its search for a tilt
// is the simplex method of Nelder and Mead (The Computer Journal 7(4), 1965) from the best places of a coarse grid.
package wayout

import (
	"context"
	"fmt"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A Way out is other settings that make something better, with what they cost.
type Way struct {
	Kind     finding.Kind // of the findings that it is out of
	Whole    bool         // it is out of joints through what shall stay whole, whatever Kind says
	Text     unit.Said    // what to do and what it does
	Gone     unit.Said    // the undercuts that are gone
	Settings job.Settings
	Parting  Parting // of a layer, where no settings can do it

	Frees   int                 // named undercuts that are gone
	FreedAt geom.Vec            // the largest of them, on the present stand
	Freed   [mostNamed]geom.Vec // where they are, so many as Frees

	TrappedBefore, Trapped float64 // mm³ outside the piece, on columns 1 mm apart
	RouterMin, WeightKg    float64 // differences from the present settings, both as Instant estimates them
	Layers, Panels         int
	TipDeg                 float64 // tilt at which the wood falls over then, 0 where nothing of that changes
	Tippy                  bool    // it stands worse than now, and badly
	Falls                  bool    // the piece falls over then, and does not now
}

// Words are all that there is to say of a way out.
func (o *Way) Words(u unit.System) string {
	text := o.Text.In(u)
	if !o.Gone.None() {
		text += "; " + o.Gone.In(u)
	}
	return text
}

// worthIt is the share that a way out has to take away of what it is out of, to be named.
const worthIt = 0.2

// Find looks for what would help a stack: the tilt, the layer thickness, the board and the first joint that trap least, and
// all of them together, after what makes each named undercut go away at the least price; what is sawn off a piece that doesn't
// stand well, and how it may be laid down instead; the first joint that leaves fewest
// thin, small and loose places; the ball that fits where the present one leaves wood; the cutter that is long enough; the wall
// that keeps the rings of wood as wide as wanted, and the one that leaves every layer hollow; the first joint that goes through less of what shall stay whole; last, for each finding of trapped wood, where one
// more joint within its layer frees most, which is for the maker to do. Searches compare stands on a thinned piece; what
// is named is measured on the piece itself and priced by Instant.
// f and r are of this standing and of the same settings. It takes a second or two and looks at ctx on its way.
func Find(ctx context.Context, st *job.Standing, f *job.Figures, r *job.Reached, c *stock.Catalogue) ([]Way, error) {
	if !f.Withheld.None() || r == nil {
		return nil, nil
	}
	w := &wayfinder{st: st, figures: f, s: f.For, r: r, c: c}
	var err error
	if w.now, err = job.Instant(ctx, st, w.s, c); err != nil {
		return nil, err
	}
	if w.still, err = gapsOf(ctx, st.Placed); err != nil {
		return nil, err
	}
	w.before = w.trapped(w.still, w.s)
	if w.tips, err = tipOf(ctx, st, f); err != nil {
		return nil, err
	}
	searches := []func(context.Context) error{w.foot, w.rest, w.whole, w.fit, w.longer, w.handle, w.rims, w.open}
	if w.has(finding.Undercut) {
		w.name()
		k := &stackSearch{wayfinder: w, thin: thinner(st.Piece)}
		searches = append([]func(context.Context) error{k.tilts, k.each, k.tilt, k.thickness, k.board, k.joint, k.together}, append(searches, w.joints)...)
	}
	for _, search := range searches {
		if err := search(ctx); err != nil {
			return nil, err
		}
	}
	return w.out, ctx.Err()
}

// has reports whether there are findings of one of the kinds.
func (w *wayfinder) has(kinds ...finding.Kind) bool { return countOf(w.r.Findings, kinds) > 0 }

func countOf(list []carve.Finding, kinds []finding.Kind) int {
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
	st      *job.Standing
	s       job.Settings // as they are
	r       *job.Reached
	c       *stock.Catalogue
	figures *job.Figures // settled, as given
	now     *job.Figures // what Instant makes of them
	before  float64      // mm³ that they trap
	tips    float64      // degrees at which the wood falls over now
	still   *carve.Gaps
	named   []undercut
	out     []Way
}

// placed is the piece itself as settings place it, with its gaps in the stand's frame.
func (w *wayfinder) placed(ctx context.Context, s job.Settings) (*stack.Placed, *carve.Gaps, error) {
	if s.Stand() == w.st.Stand {
		return w.st.Placed, w.still, ctx.Err()
	}
	p, err := stack.Place(ctx, w.st.Piece.Mesh, s.Stand())
	if err != nil {
		return p, nil, err
	}
	g, err := gapsOf(ctx, p)
	return p, g, err
}

// standAt is the standing that settings want.
func (w *wayfinder) standAt(ctx context.Context, s job.Settings) (*job.Standing, error) {
	if s.Stand() == w.st.Stand {
		return w.st, ctx.Err()
	}
	st, err := job.Stand(ctx, w.st.Piece, s.Stand())
	if err != nil || w.st.Grid == nil {
		return st, err
	}
	return st.WithField(ctx, w.st.Grid)
}

// gapsOf are the gaps of a placed piece, in the stand's frame.
func gapsOf(ctx context.Context, p *stack.Placed) (*carve.Gaps, error) {
	return carve.FindGaps(ctx, p.Mesh, stack.Stand{Turn: geom.NoTurn(), Scale: 1}, carve.DragStep)
}

// trapped is what settings trap outside the piece, mm³, by the gaps of their stand.
func (w *wayfinder) trapped(g *carve.Gaps, s job.Settings) float64 {
	t := s.LayerThickness(w.c)
	return g.Trapped(t, s.FirstJointIn(t))
}

// offer keeps settings that trap less by enough, or that free a named undercut and trap no more; text says what to do.
func (w *wayfinder) offer(ctx context.Context, s job.Settings, do unit.Said) error {
	if slices.ContainsFunc(w.out, func(o Way) bool { return o.Settings == s }) || s == w.s {
		return nil
	}
	at, g, err := w.placed(ctx, s)
	if err != nil {
		return err
	}
	o := Way{Kind: finding.Undercut, Settings: s, TrappedBefore: w.before, Trapped: w.trapped(g, s)}
	free := w.freed(at, g, s)
	if o.Trapped > (1-worthIt)*w.before && (len(free) == 0 || o.Trapped > w.before) {
		return nil
	}
	o.Text = unit.Say("%s: %s stays out of reach", do, w.lessTrapped(o.Trapped))
	if o.Frees = len(free); o.Frees > 0 {
		o.FreedAt, o.Freed, o.Gone = free[0].worst.At, places(free), w.goneWords(free)
	}
	st, err := w.standAt(ctx, s)
	if err != nil {
		return err
	}
	return w.price(ctx, st, o)
}

// lessTrapped says how much stays out of reach of what does now, mm³ on columns 1 mm apart. It is told as a share: on the columns that
// cutters are followed on either comes to somewhat more or less.
func (w *wayfinder) lessTrapped(trapped float64) string {
	less := 100 * (1 - trapped/w.before)
	switch {
	case trapped < w.s.LimitsInUse().Trapped:
		return "nothing"
	case less < 1:
		return "as much as now"
	}
	return fmt.Sprintf("%.0f %% less", less)
}

// price adds what a way out costs, and keeps it; settings that can't be worked with are left out.
func (w *wayfinder) price(ctx context.Context, st *job.Standing, o Way) error {
	f, err := job.Instant(ctx, st, o.Settings, w.c)
	if err != nil || !f.Withheld.None() {
		return err
	}
	if o.TipDeg, err = tipOf(ctx, st, f); err != nil {
		return err
	}
	w.keep(o, f)
	return nil
}

// keep adds to a way out what its figures cost more than the present ones, and keeps it.
func (w *wayfinder) keep(o Way, f *job.Figures) { w.keepAgainst(o, f, w.now) }

// keepAgainst is keep where the present figures are others than those of Instant.
func (w *wayfinder) keepAgainst(o Way, f, now *job.Figures) {
	o.RouterMin = f.Totals.RouterMin() - now.Totals.RouterMin()
	o.WeightKg = f.Totals.WeightKg - now.Totals.WeightKg
	o.Layers = len(f.Layers) - len(now.Layers)
	o.Panels = f.Totals.Panels - now.Totals.Panels
	o.Falls = o.TipDeg < 0 && w.tips >= 0
	o.Tippy = !o.Falls && o.TipDeg > 0 && o.TipDeg < job.Easily && o.TipDeg < w.tips-steadier
	w.out = append(w.out, o)
}

// priceHere is price for settings that leave the piece and the joints where they are.
func (w *wayfinder) priceHere(ctx context.Context, kind finding.Kind, s job.Settings, text unit.Said) error {
	return w.price(ctx, w.st, Way{Kind: kind, Text: text, Settings: s, TrappedBefore: w.before, Trapped: w.before})
}
