package work

import (
	"context"
	"runtime"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/compass"
	"grainstack/slicing/job"
)

// A CompassAsk asks for directions.
type CompassAsk struct {
	Key      state.CompassKey
	settings job.Settings
	weights  compass.Weights
}

// CompassTask compares directions.
type CompassTask = task.Task[state.CompassKey, CompassAsk, *compass.Map]

// Compare begins to compare directions anew.
func Compare(b *state.Bench, t *CompassTask) {
	t.Drop()
	c := &b.Compass
	c.Found, c.Of, c.Pointed = nil, b.Compass.Key(), nil
	t.Want(c.Of, 0, CompassAsk{c.Of, b.Settings(), c.Weights})
}

// Directions compares directions and hands in what it has found so far. One core is left to the window.
func Directions(ctx context.Context, a CompassAsk, report task.Report[*compass.Map]) (*compass.Map, error) {
	o := compass.Options{Weights: a.weights, Cores: max(1, runtime.GOMAXPROCS(0)-1)}
	return compass.Search(ctx, a.Key.Piece, a.settings, a.Key.Stock, o, func(m *compass.Map, done float64) {
		report.Progress("", done)
		report.Early(m)
	})
}
