package work

import (
	"context"
	"time"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
)

// A StandAsk asks for a piece to be stood.
type StandAsk struct {
	Key   state.StandKey
	model *state.Model
	last  *job.Standing // what stood before: only the hollow is added where the stand is the same
}

// standEvery is how often at most a piece that is being turned is tabulated anew: the picture goes before the figures.
const standEvery = 300 * time.Millisecond

// WantStand wants the piece stood as the settings say, with the hollow where that is known.
func WantStand(b *state.Bench, t *task.Task[state.StandKey, StandAsk, *job.Standing]) {
	if b.Stands() && b.Standing.Grid == b.Model.Grid {
		t.Drop()
		return
	}
	key := b.StandKey()
	var after time.Duration
	if !key.Rests && b.Standing != nil && b.Standing.Piece == key.Piece {
		after = standEvery - t.Since()
	}
	t.Want(key, after, StandAsk{key, b.Model, b.Standing})
}

// Stand stands a piece up, or adds the hollow to a piece that stands.
func Stand(ctx context.Context, a StandAsk, _ task.Report[*job.Standing]) (*job.Standing, error) {
	st := a.last
	if st == nil || st.Piece != a.Key.Piece || st.Stand != a.Key.Stand {
		var err error
		if st, err = job.Stand(ctx, a.Key.Piece, a.Key.Stand); err != nil {
			return nil, err
		}
	}
	if a.Key.Grid == nil || st.Grid == a.Key.Grid {
		return st, nil
	}
	return st.WithField(ctx, a.Key.Grid)
}

// figuresTask works figures out.
type figuresTask = task.Task[state.FigureKey, state.FigureKey, *job.Figures]

// WantFigures wants the figures that take longer than a look-up.
func WantFigures(b *state.Bench, t *figuresTask) {
	if key := b.FigureKey(); b.Stands() && key != b.Figured.Key && !b.Reckonable() {
		t.Want(key, 0, key)
		return
	}
	t.Drop()
}

// Figures looks figures up.
func Figures(ctx context.Context, a state.FigureKey, _ task.Report[*job.Figures]) (*job.Figures, error) {
	return job.Instant(ctx, a.Standing, a.Settings, a.Stock)
}

// settleAfter is how long the settings have to rest before the settled figures are begun: they would only be called off.
const settleAfter = 120 * time.Millisecond

// WantSettled wants the figures that take a walk, once those that are looked up are there.
func WantSettled(b *state.Bench, t *figuresTask) {
	key, f := b.FigureKey(), b.Figured.Raw
	if b.Stale() || f == nil || b.Figured.Key != key || !f.Withheld.None() {
		t.Drop()
		return
	}
	if !f.Settled {
		t.Want(key, settleAfter, key)
	}
}

// Settled works out the figures that take a walk.
func Settled(ctx context.Context, a state.FigureKey, _ task.Report[*job.Figures]) (*job.Figures, error) {
	return job.Settle(ctx, a.Standing, a.Settings, a.Stock)
}
