package wayout

import (
	"context"

	"grainstack/slicing/finding"
	"grainstack/slicing/unit"
)

// whole takes the first joint that goes through less of what shall stay whole, where the settled figures have found one.
func (w *wayfinder) whole(ctx context.Context) error {
	b := w.figures.BetterJoint
	if b.Layers == 0 {
		return nil
	}
	s := w.s.WithFirstJoint(b.At, w.c)
	after := w.trapped(w.still, s)
	left := "nothing goes through what shall stay whole"
	if b.Crossings > 0 {
		left = finding.Crossings(b.Crossings)
	}
	text := unit.Say("Put the first joint at %s: %s, instead of %d", unit.Mm(b.At), left, w.figures.CrossingCount())
	return w.price(ctx, w.st, Way{Whole: true, Text: text, Settings: s, TrappedBefore: w.before, Trapped: after})
}
