package work

import (
	"context"
	"path/filepath"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/scans"
	"grainstack/slicing/stock"
)

// A FacesAsk asks for scans to be looked at, each with its cuts made.
type FacesAsk struct {
	Scans []scans.Source
	Stock *stock.Catalogue
}

// FacesTask reads scans to be looked at.
type FacesTask = task.Task[int, FacesAsk, []*state.Model]

// shownAs is how large a scan is taken to be along its longest side while it is only looked at, mm: its unit is not known.
const shownAs = 300

// Faces reads scans to be looked at.
func Faces(ctx context.Context, a FacesAsk, _ task.Report[[]*state.Model]) (all []*state.Model, err error) {
	for _, one := range a.Scans {
		m, raw, err := one.Face(ctx)
		if err != nil {
			return nil, err
		}
		s := job.Default(a.Stock)
		if size := m.Box().Size(); max(size.X, size.Y, size.Z) > 0 {
			s.Scale = shownAs / max(size.X, size.Y, size.Z)
		}
		all = append(all, state.NewModel(jobfile.Job{Piece: job.NewPiece(filepath.Base(one.File), m, raw)}, s))
	}
	return all, ctx.Err()
}
