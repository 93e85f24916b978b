package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"

	"grainstack/app/files"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/report"
	"grainstack/slicing/workshop"
)

// A reportFlags is what only the report asks for.
type reportFlags struct {
	sections int
	minutes  string
	programs bool
	machine  *machineFlags
}

func bindReport(set *flag.FlagSet) *reportFlags {
	f := &reportFlags{}
	set.IntVar(&f.sections, "sections", 0, "`N` equally spaced sections to be listed as well")
	set.StringVar(&f.minutes, "minutes", "", "`FILE` of minutes that sides really took, as the window keeps them: the report says what to expect")
	set.BoolVar(&f.programs, "programs", false, "lay the paths of all panels as well, and prove their programs: takes minutes")
	f.machine = bindMachine(set)
	return f
}

// records are the minutes that are to be learned from; a file that is named has to be there.
func (f *reportFlags) records() ([]hours.Record, error) {
	if f.minutes == "" {
		return nil, nil
	}
	if _, err := os.Stat(f.minutes); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no file %s of minutes", f.minutes)
	}
	return jobfile.LoadRecords(f.minutes)
}

// printReport prints the figures of a piece or a job as JSON.
func printReport(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("report")
	stackWords, own := bindStack(set), bindReport(set)
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if own.sections < 0 || own.sections > 100_000 {
		return &usageError{"the number of sections is from 0 to 100000"}
	}
	records, err := own.records()
	if err != nil {
		return err
	}
	b, err := open(ctx, words, stackWords)
	if err != nil {
		return err
	}
	fig, err := job.Settle(ctx, b.standing, b.settings, b.catalogue)
	if err != nil {
		return err
	}
	r, err := report.New(ctx, b.standing, fig, own.sections)
	if err != nil {
		return err
	}
	r.SetAside(b.asides, b.standing)
	if err := r.AddSurvey(ctx, b.standing.Piece, b.settings.Scale); err != nil {
		return err
	}
	if fig.Withheld.None() {
		reached, err := workshop.Reach(ctx, b.standing, fig, b.catalogue, nil)
		if err != nil {
			return err
		}
		r.AddReach(reached)
		if own.minutes != "" {
			r.AddLearned(hours.Learn(records, b.settings.Machine), b.settings.Machine)
		}
		shop, err := workshop.New(ctx, b.standing, reached.Onto(fig), b.places, b.catalogue, workshop.Watch{})
		if err != nil {
			return err
		}
		r.AddWorkshop(shop, b.catalogue)
		if own.programs {
			m, _ := b.catalogue.Machine(b.settings.Machine)
			machine, err := own.machine.machine(m, false)
			if err != nil {
				return err
			}
			all, proven, err := files.ReportPrograms(ctx, files.Work{Standing: b.standing, Figures: shop.Figures, Workshop: shop, Catalogue: b.catalogue, Machine: machine})
			if err != nil {
				return err
			}
			r.AddPrograms(all, proven)
		}
	}
	return printJSON(out, r)
}
