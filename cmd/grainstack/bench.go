package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"grainstack/assets"
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/scans"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
	"grainstack/slicing/workshop"

	"github.com/adrg/xdg"
)

// A bench is a piece as it stands, with settings: what every sub-command works from.
type bench struct {
	catalogue *stock.Catalogue
	settings  job.Settings
	piece     *job.Piece
	standing  *job.Standing
	places    job.Places
	asides    []finding.Aside
	trials    []trial.Trial
	minutes   []hours.Record // that sides really took
}

// catalogue is the stock that comes with the program.
func catalogue() (*stock.Catalogue, error) { return stock.Load(fs.FS(assets.FS), "stock.json") }

// ownStock is where the window keeps the maker's own stock.
func ownStock() string { return filepath.Join(xdg.ConfigHome, "grainstack", "stock.json") }

// shelf is the program's stock with the maker's own laid over it: the file that a flag names, or else the window's.
func shelf(path string) (*stock.Catalogue, error) {
	c, err := catalogue()
	if err != nil {
		return nil, err
	}
	if path == "" {
		path = ownStock()
	} else if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no file %s of your own stock", path)
	}
	own, c, err := jobfile.LoadOwnStock(path, c)
	if err != nil {
		return nil, err
	}
	for _, note := range own.Notes {
		tell(note, os.Stderr)
	}
	return c, nil
}

// inputs are the files that a command works from, besides the piece of a job: none of them is written over.
func (f *stackFlags) inputs(words []string) []string { return append(words, f.stock, f.tones.photo) }

// openPiece reads the one piece or job that is named, mends it and applies the flags; nothing stands yet.
func openPiece(ctx context.Context, words []string, flags *stackFlags) (*bench, error) {
	name, err := onePiece(words)
	if err != nil {
		return nil, err
	}
	c, err := shelf(flags.stock)
	if err != nil {
		return nil, err
	}
	kept, err := jobfile.Open(ctx, name, "", c, nil)
	if err != nil {
		return nil, err
	}
	for _, note := range kept.Notes {
		tell(note, os.Stderr)
	}
	c = kept.Catalogue
	if kept.Piece, err = flags.cut(ctx, kept.Piece); err != nil {
		return nil, err
	}
	p, s, err := flags.settle(ctx, kept.Piece, kept.Settings, c)
	if err != nil {
		return nil, err
	}
	return &bench{catalogue: c, settings: s, piece: p, places: kept.Places, asides: kept.Asides, trials: kept.Trials, minutes: kept.Minutes}, nil
}

// cut is what the flags use of the scan that a piece is made of.
func (f *stackFlags) cut(ctx context.Context, p *job.Piece) (*job.Piece, error) {
	switch {
	case len(f.cuts) == 0:
		return p, nil
	case p.File == "" || p.Joined != nil:
		return nil, errors.New("-box and -plane cut a piece of one scan: what several are joined of is cut where they are joined")
	}
	var cuts []scans.Cut
	for _, one := range f.cuts {
		cuts = append(cuts, one.Cut)
	}
	return job.JoinPiece(ctx, scans.CutAlone(p.File, cuts...), nil)
}

// open is openPiece and stands the piece; a solid piece that is to be hollow gets its field.
func open(ctx context.Context, words []string, flags *stackFlags) (*bench, error) {
	b, err := openPiece(ctx, words, flags)
	if err != nil {
		return nil, err
	}
	if b.standing, err = job.Stand(ctx, b.piece, b.settings.Stand()); err != nil {
		return nil, err
	}
	if b.piece.Solid() && b.settings.Wall > 0 {
		grid, err := b.piece.Hollow(ctx, nil)
		if err != nil {
			return nil, err
		}
		if b.standing, err = b.standing.WithField(ctx, grid); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// timed are settled figures with the minutes of the cutters' real paths and what the job's own machine has been seen to take.
// Withheld figures stay as they are.
func (b *bench) timed(ctx context.Context, f *job.Figures) (*job.Figures, error) {
	if !f.Withheld.None() {
		return f, nil
	}
	r, err := workshop.Reach(ctx, b.standing, f, b.catalogue, nil)
	if err != nil {
		return nil, err
	}
	return r.Onto(f).Learned(hours.Learn(b.minutes, f.For.Machine)), nil
}

// settle is the mended piece and all settings as the flags want them.
func (f *stackFlags) settle(ctx context.Context, p *job.Piece, s job.Settings, c *stock.Catalogue) (*job.Piece, job.Settings, error) {
	s, err := f.apply(s, c)
	if err != nil {
		return nil, s, err
	}
	if p, err = p.Sized(ctx, s); err != nil {
		return nil, s, err
	}
	if s, err = f.applyStand(s, p); err != nil {
		return nil, s, err
	}
	if s, err = f.applyLayer(s, c); err != nil {
		return nil, s, err
	}
	if err = s.Check(c); err != nil {
		return nil, s, err
	}
	p, err = p.Mend(ctx, s, nil)
	return p, s, err
}
