package work

import (
	"context"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/scans"
)

// A JoinAsk asks for the piece on the bench joined of scans as a plan says.
type JoinAsk struct {
	Plan *scans.Plan
	Of   *state.Model // that is on the bench, whose job goes on
	Name string       // of what is done, "" where undo asks: then the plan stands already
}

// JoinTask joins scans.
type JoinTask = task.Task[*scans.Plan, JoinAsk, *state.Model]

// WantJoin wants the piece joined as the session has it, where a step back or forward led to a plan that is not at hand.
func WantJoin(b *state.Bench, t *JoinTask) {
	if p := b.Plan(); p != b.Model.Plan() && p != nil {
		t.Want(p, 0, JoinAsk{Plan: p, Of: b.Model})
	}
}

// Join brings scans together and makes one piece of them.
func Join(ctx context.Context, a JoinAsk, report task.Report[*state.Model]) (*state.Model, error) {
	p, err := job.JoinPiece(ctx, a.Plan, report.Progress)
	if err != nil {
		return nil, err
	}
	j := a.Of.Job
	j.Piece = p
	return state.NewModel(j, a.Of.Settings), ctx.Err()
}
