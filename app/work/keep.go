package work

import (
	"context"
	"os"
	"path/filepath"
	"time"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/jobfile"
)

// A SaveAsk is a job to be written to a file.
type SaveAsk struct {
	Path string
	Job  jobfile.Job
	Rev  int // of the session that it is
}

// A Nothing is what came of work that writes.
type Nothing struct{}

// Save writes a job: the piece's file is read again for it, which may take a while.
func Save(_ context.Context, a SaveAsk, _ task.Report[Nothing]) (Nothing, error) {
	return Nothing{}, a.Job.Save(a.Path, false)
}

// keepAfter is how long the hand has to rest before unsaved work is kept.
const keepAfter = 300 * time.Millisecond

// WantKept wants what is on the bench kept at a path, once the hand rests.
func WantKept(b *state.Bench, t *task.Task[int, SaveAsk, Nothing], path string) {
	if !b.Gesture() {
		t.Want(b.Revision(), keepAfter, SaveAsk{path, b.Kept(), b.Revision()})
	}
}

// Keep writes unsaved work down, wholly or not at all.
func Keep(_ context.Context, a SaveAsk, _ task.Report[Nothing]) (Nothing, error) {
	if err := os.MkdirAll(filepath.Dir(a.Path), 0o700); err != nil {
		return Nothing{}, err
	}
	return Nothing{}, a.Job.Save(a.Path, false)
}

// Stock writes the maker's own stock file.
func Stock(_ context.Context, o jobfile.OwnStock, _ task.Report[Nothing]) (Nothing, error) {
	return Nothing{}, o.Save()
}
