package work

import (
	"context"
	"errors"
	"fmt"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
)

// errNoPiece is what opening nothing comes to.
var errNoPiece = errors.New("there is no demo piece in this program: open a mesh")

// Open reads a mesh or a job and makes it ready to be drawn; first makes the piece to begin with, and may be nil.
func Open(first func(context.Context) (*job.Piece, error)) task.Work[state.Opening, *state.Model] {
	return func(ctx context.Context, a state.Opening, report task.Report[*state.Model]) (*state.Model, error) {
		j, s := jobfile.Job{}, job.Default(a.Stock)
		var err error
		switch {
		case a.Plan != nil:
			j.Catalogue = a.Stock
			j.Piece, err = job.JoinPiece(ctx, a.Plan, report.Progress)
			if err == nil && j.Piece.Raw.UnitMM > 0 {
				s.Scale = j.Piece.Raw.UnitMM
			}
		case a.Path != "":
			j, err = jobfile.Open(ctx, a.Path, a.Moved, a.Stock, report.Progress)
			s = j.Settings
		case first != nil:
			j.Piece, err = first(ctx)
		default:
			err = errNoPiece
		}
		if err != nil {
			return nil, err
		}
		if len(j.Piece.Mesh.Triangles) == 0 {
			return nil, fmt.Errorf("%s holds no facets: export the piece again as a mesh", a.Path)
		}
		return state.NewModel(j, s), ctx.Err()
	}
}
