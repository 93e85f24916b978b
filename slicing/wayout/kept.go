package wayout

import (
	"context"
	"fmt"

	"grainstack/slicing/finding"
)

// whole takes the first joint that goes through less of what shall stay whole, where the settled figures have found one.
func (w *wayfinder) whole(ctx context.Context) error {
	b := w.figures.BetterJoint
	if b.Layers == 0 {
		return nil
	}
	s := w.s.WithFirstJoint(b.At, w.c)
	after := w.trapped(w.still, s)
	text := fmt.Sprintf("Put the first joint at %.4g mm: ", b.At)
	if b.Crossings == 0 {
		text += "nothing goes through what shall stay whole"
	} else {
		text += finding.Crossings(b.Crossings)
	}
	text += fmt.Sprintf(", instead of %d", w.figures.CrossingCount())
	return w.price(ctx, w.st, Way{Whole: true, Text: text, Settings: s, TrappedBefore: w.before, Trapped: after})
}
