package picture

import (
	"context"

	"grainstack/render/look"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
)

// Compare works out a job's settings and its trials, with the cutters followed and the panels laid, and makes them ready to be
// drawn: the job's own settings first, unless a trial is like them, which then leads. known are pieces that are there already.
// A trial that can't be worked out says why.
func Compare(ctx context.Context, of *job.Piece, now job.Settings, trials []trial.Trial, c *stock.Catalogue, known []trial.Tried) ([]Compared, error) {
	all := []Compared{{Name: "As it is", For: now}}
	for _, t := range trials {
		if t.Settings == now {
			all[0].Name = t.Name + " · as it is"
			continue
		}
		all = append(all, Compared{Name: t.Name, For: t.Settings})
	}
	var tr trial.Trier
	bodies := map[*job.Piece]*look.Body{}
	for i := range all {
		one := &all[i]
		var err error
		if one.Ticket, err = tr.Ticket(ctx, of, one.For, c, known, true, nil, nil); err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			one.Fault = err.Error()
			continue
		}
		if one.For.Check(c) != nil { // its ticket says why
			continue
		}
		tried, err := tr.Piece(ctx, of, one.For, known, nil)
		if err != nil {
			return nil, err
		}
		body := bodies[tried.Piece]
		if body == nil {
			body = look.NewBody(tried.Piece.Thin)
			if tried.Grid != nil {
				body = body.WithOpenness(tried.Grid.Openness(tried.Piece.Thin.Points, nil))
			}
			bodies[tried.Piece] = body
		}
		one.Body, one.Thin = body, tried.Piece.Thin
	}
	return all, nil
}
