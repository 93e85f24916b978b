package wayout

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/compass"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// mostRests is in how many ways a piece that doesn't stand well is offered to be laid down.
const mostRests = 3

// rest looks for the ways in which a piece that doesn't stand well comes to rest by itself, the least turned first: it is made as
// it lies then. One in which it would fall over when it is touched is left out.
func (w *wayfinder) rest(ctx context.Context) error {
	if w.tips >= job.Easily {
		return ctx.Err()
	}
	b, err := w.figures.Body(ctx, w.st)
	if err != nil {
		return err
	}
	ups := compass.Rests(w.st.Piece.Mesh, w.st.Placed.Placement.Back(b.Centre))
	slices.SortStableFunc(ups, func(a, b geom.Vec) int { return cmp.Compare(w.turned(a), w.turned(b)) })
	left := mostRests
	for _, up := range ups {
		if left == 0 {
			break
		}
		kept := len(w.out)
		if err := w.lay(ctx, up); err != nil {
			return err
		}
		left -= len(w.out) - kept
	}
	return ctx.Err()
}

// turned is by how much a direction of the piece leans away from upright now, radians.
func (w *wayfinder) turned(up geom.Vec) float64 {
	return math.Acos(max(-1, min(1, w.s.Turn.Apply(up).Z)))
}

// lay prices the stand with a direction of the piece upright, and keeps it where it stands well.
func (w *wayfinder) lay(ctx context.Context, up geom.Vec) error {
	s := w.s
	s.Turn = geom.TurnXYZ(s.Turn.Then(geom.TurnTo(s.Turn.Apply(up), geom.Vec{Z: 1})).Degrees()) // as it is written down
	if s.Stand() == w.s.Stand() {
		return nil
	}
	_, gaps, err := w.placed(ctx, s)
	if err != nil {
		return err
	}
	st, err := w.standAt(ctx, s)
	if err != nil {
		return err
	}
	kept := len(w.out)
	if err := w.price(ctx, st, Way{Kind: finding.FallsOver, Settings: s, TrappedBefore: w.before, Trapped: w.trapped(gaps, s)}); err != nil || len(w.out) == kept {
		return err
	}
	o := &w.out[kept]
	if o.TipDeg < max(job.Easily, w.tips+steadier) {
		w.out = w.out[:kept]
		return nil
	}
	by := phrase.Count(int(math.Ceil(w.turned(up)*180/math.Pi)), "degree")
	o.Text = unit.Say("Turn it by %s, so that it rests on what it falls onto: it stands until it is tilted by %.0f degrees", by, o.TipDeg)
	return nil
}
