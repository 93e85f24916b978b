package view

import (
	"context"

	"grainstack/app/files"
	"grainstack/app/task"
	"grainstack/app/work"
	"grainstack/render/still"
)

// A StillAsk is a still, or a turntable, to be drawn and written to a file.
type StillAsk struct {
	LookAsk
	Path  string
	Turns bool
}

// Still draws it and writes it.
func Still(ctx context.Context, a StillAsk, report task.Report[work.Nothing]) (work.Nothing, error) {
	view, dress := sceneSeen(a.LookAsk)
	s := still.Scene{Body: a.Model.Full, View: view, Dress: dress}
	progress := func(done float64) { report.Progress("", done) }
	if a.Turns {
		_, frames, seconds := still.UsualTurn()
		return work.Nothing{}, files.SaveTurntable(ctx, s, a.Path, frames, seconds, progress)
	}
	return work.Nothing{}, files.SaveStill(ctx, s, a.Path, progress)
}
