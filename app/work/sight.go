package work

import (
	"context"

	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
)

// A SightAsk asks from where the picked place is seen.
type SightAsk struct {
	standing *job.Standing
	kind     finding.Kind
	place    finding.Place
	now      look.Camera
}

// SightTask looks for the way to look at a place.
type SightTask = task.Task[int, SightAsk, picture.SightLine]

// WantSight wants the way to look at the picked place, from near where the viewer stands.
func WantSight(b *state.Bench, t *SightTask, now look.Camera) {
	f, p, ok := b.SnagPlace()
	if !ok {
		t.Drop()
		return
	}
	t.Want(b.Selected.Snag.Serial, 0, SightAsk{b.Standing, f.Kind, p, now})
}

// Sight looks for it on the thinned piece.
func Sight(ctx context.Context, a SightAsk, _ task.Report[picture.SightLine]) (picture.SightLine, error) {
	st := a.standing
	return picture.Line(ctx, st.Piece.Thin, st.Placed.Placement, a.kind, a.place, a.now)
}
