package work

import (
	"context"
	"time"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/wayout"
	"grainstack/slicing/workshop"
)

// A ReachAsk asks for the reach of settled figures, or for ways out of what can't be reached.
type ReachAsk struct {
	Key     state.FigureKey
	figures *job.Figures // as Settle gave them
	reached *job.Reached // for ways out
}

// reachAfter is how long the settings have to rest before the cutters are followed: that keeps both cores busy.
const reachAfter = 500 * time.Millisecond

// WantReach wants the cutters followed once the figures are settled.
func WantReach(b *state.Bench, t *task.Task[state.FigureKey, ReachAsk, *job.Reached]) {
	key, f := b.FigureKey(), b.Figured.Raw
	if f == nil || !f.Settled || !f.CoreKnown && b.HollowComes() || b.Stale() || b.Figured.Key != key || b.Reached() != nil {
		if b.Tasks.Reach.Key != key {
			t.Drop()
		}
		return
	}
	t.Want(key, reachAfter, ReachAsk{Key: key, figures: f})
}

// Reach follows the cutters.
func Reach(ctx context.Context, a ReachAsk, report task.Report[*job.Reached]) (*job.Reached, error) {
	return workshop.Reach(ctx, a.Key.Standing, a.figures, a.Key.Stock, func(done float64) { report.Progress("", done) })
}

// WaysTask looks for ways out.
type WaysTask = task.Task[state.FigureKey, ReachAsk, []wayout.Way]

// Seek begins to look for ways out of what can't be reached; it reports whether there is something to look for.
func Seek(b *state.Bench, t *WaysTask) bool {
	r := b.Reached()
	if r == nil || t.State() == task.Working {
		return false
	}
	t.Drop()
	b.Reach.Sought = false
	key := b.FigureKey()
	return t.Want(key, 0, ReachAsk{key, b.Figures, r})
}

// WantWays leaves ways out of settings that have changed, and wants those of the present ones once a place is picked that
// needs a look and all that is known of it.
func WantWays(b *state.Bench, t *WaysTask) {
	key, r := b.FigureKey(), b.Reached()
	if b.Tasks.Ways.Key != key {
		t.Drop()
	}
	if _, sought := b.Ways(); sought || !b.Selected.Snag.On || r == nil || b.Stale() || b.Tasks.Shop.State == task.Working {
		return
	}
	t.Want(key, 0, ReachAsk{key, b.Figures, r})
}

// Ways looks for ways out.
func Ways(ctx context.Context, a ReachAsk, _ task.Report[[]wayout.Way]) ([]wayout.Way, error) {
	return wayout.Find(ctx, a.Key.Standing, a.figures, a.reached, a.Key.Stock)
}
