package work

import (
	"context"
	"math"

	"grainstack/app/files"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/proof"
)

// A ProgramsAsk asks for the programs of all panels.
type ProgramsAsk struct {
	Key  state.ShopKey
	Work files.Work
}

// ProgramsTask works programs out. What it hands in early is the programs of one panel.
type ProgramsTask = task.Task[state.ShopKey, ProgramsAsk, []*proof.Batch]

// WorkOut begins to work the programs out anew.
func WorkOut(b *state.Bench, t *ProgramsTask, w files.Work) {
	t.Drop()
	key := b.Programs.Key()
	b.Programs.Begin(key, w.Workshop)
	t.Want(key, 0, ProgramsAsk{key, w})
}

// WantPrograms leaves programs that are being worked out, or were called off, where they are of settings that have changed.
func WantPrograms(b *state.Bench, t *ProgramsTask) {
	if at := b.Tasks.Programs; at.State != task.Idle && at.State != task.Done && at.Key != b.Programs.Key() {
		t.Drop()
	}
}

// Programs makes them, and hands in those of the panels so far.
func Programs(ctx context.Context, a ProgramsAsk, report task.Report[[]*proof.Batch]) ([]*proof.Batch, error) {
	var all []*proof.Batch
	return files.Batches(ctx, a.Work, report.Progress, func(b *proof.Batch) {
		all = append(all[:len(all):len(all)], b)
		report.Early(all)
	})
}

// CourseTask carves a board to be looked at.
type CourseTask = task.Task[*proof.Batch, *proof.Batch, *proof.Course]

// WantCourse wants the board of the panel that is looked at carved, while its programs are in front.
func WantCourse(b *state.Bench, t *CourseTask) {
	p := &b.Programs
	one := p.Shown()
	switch {
	case one == nil || len(one.Programs) == 0:
		t.Drop()
	case p.Running() == nil && b.Screen.Sheet == state.ProgramsSheet:
		t.Want(one, 0, one)
	}
}

// The columns of a board that is looked at lie so far apart, mm, or as far as so many of them ask for.
const (
	courseStep  = 0.6
	mostColumns = 1_000_000
)

// Course carves the board.
func Course(ctx context.Context, b *proof.Batch, report task.Report[*proof.Course]) (*proof.Course, error) {
	step := max(courseStep, math.Sqrt(b.Blank.X*b.Blank.Y/mostColumns))
	return proof.NewCourse(ctx, b, step, func(share float64) { report.Progress("", share) })
}
