package main

import (
	"context"
	"encoding/json"
	"flag"
	"io"

	"grainstack/slicing/job"
)

// A reportFlags is what only the report asks for.
type reportFlags struct{ sections int }

func bindReport(set *flag.FlagSet) *reportFlags {
	f := &reportFlags{}
	set.IntVar(&f.sections, "sections", 0, "`N` equally spaced sections to be listed as well")
	return f
}

// report prints the figures of a piece or a job as JSON.
func report(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("report")
	stackWords, own := bindStack(set), bindReport(set)
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if own.sections < 0 || own.sections > 100_000 {
		return &usageError{"the number of sections is from 0 to 100000"}
	}
	b, err := open(ctx, words, stackWords)
	if err != nil {
		return err
	}
	fig, err := job.Settle(ctx, b.standing, b.settings, b.catalogue)
	if err != nil {
		return err
	}
	r, err := job.NewReport(ctx, b.standing, fig, own.sections)
	if err != nil {
		return err
	}
	if err := r.AddSurvey(ctx, b.standing.Piece, b.settings.Scale); err != nil {
		return err
	}
	if fig.Withheld == "" {
		reached, err := job.Reach(ctx, b.standing, fig, b.catalogue, 0, nil)
		if err != nil {
			return err
		}
		r.AddReach(reached)
		shop, err := job.NewWorkshop(ctx, b.standing, reached.Onto(fig), b.places, b.catalogue, nil)
		if err != nil {
			return err
		}
		r.AddWorkshop(shop)
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	return enc.Encode(r)
}
