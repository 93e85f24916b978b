package wayout

import (
	"context"

	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// steadier is by how many degrees less than now a piece has to tip after a way out for that to be told.
const steadier = 3.0

// foot looks for the least that is sawn off a piece that doesn't stand well, mends it so and sees that it stands: what is told is
// of the sawn piece. The hollow is left out of the price: what is sawn off is solid.
func (w *wayfinder) foot(ctx context.Context) error {
	if w.tips >= job.Easily {
		return ctx.Err()
	}
	b, err := w.figures.Body(ctx, w.st)
	if err != nil {
		return err
	}
	saw, ok, err := w.figures.SawToStand(ctx, w.st, b)
	if err != nil || !ok {
		return err
	}
	s, ok := w.figures.SawnOff(w.st, saw.Mm)
	if !ok {
		return nil
	}
	p, err := w.st.Piece.Mend(ctx, s, nil)
	if err != nil {
		return ctx.Err() // a piece that can't be sawn so has no such way out
	}
	sawn, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		return err
	}
	after, err := job.Instant(ctx, sawn, s, w.c)
	if err != nil || !after.Withheld.None() {
		return err
	}
	tips, err := tipOf(ctx, sawn, after)
	if err != nil || !(tips > max(w.tips, 0)) {
		return err
	}
	before, err := w.solid(ctx)
	if err != nil {
		return err
	}
	o := Way{Kind: finding.FallsOver, Settings: s, TipDeg: tips, TrappedBefore: w.before, Trapped: w.before,
		Text: unit.Say("Saw %s off its foot: it stands, until it is tilted by %.0f degrees", unit.Mm(saw.Mm), tips)}
	w.keepAgainst(o, after, before)
	return nil
}

// solid are the present figures without a hollow.
func (w *wayfinder) solid(ctx context.Context) (*job.Figures, error) {
	st, err := job.Stand(ctx, w.st.Piece, w.s.Stand())
	if err != nil {
		return nil, err
	}
	return job.Instant(ctx, st, w.s, w.c)
}

// tipOf is the tilt at which the wood of figures falls over, degrees: less than nothing where it falls over by itself.
func tipOf(ctx context.Context, st *job.Standing, f *job.Figures) (float64, error) {
	b, err := f.Body(ctx, st)
	if err != nil {
		return 0, err
	}
	now, ok := b.Stand()
	if !ok {
		return -90, nil // on a point or an edge
	}
	return now.TipDeg, nil
}
