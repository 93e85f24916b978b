package main

import (
	"context"
	"io/fs"

	"grainstack/app"
	"grainstack/assets"
	"grainstack/slicing/job"
	"grainstack/slicing/scans"
)

// window opens the window on the named piece or job, on the piece that several named scans make, or on the demo piece.
func window(_ context.Context, args []string) error {
	set := newFlags("grainstack")
	trace := set.Bool("trace", false, "log one line for each shown frame")
	own := set.String("stock", ownStock(), "`FILE` of your own boards, cutters, machines and glues")
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if len(words) > 1 {
		if err := scans.Count(len(words)); err != nil {
			return &usageError{err.Error()}
		}
	}
	c, err := catalogue()
	if err != nil {
		return err
	}
	o := app.Options{
		Catalogue: c, Assets: fs.FS(assets.FS), Icon: assets.Icon, Version: assets.Version(), Trace: *trace, Stock: *own,
		Piece: func(context.Context) (*job.Piece, error) { return job.Demo(), nil },
	}
	if len(words) > 0 {
		o.Path, o.Scans = words[0], words[1:]
	}
	return app.Run(o)
}
