package main

import (
	"context"
	"io/fs"

	"grainstack/assets"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A bench is a piece as it stands, with settings: what every sub-command works from.
type bench struct {
	catalogue *stock.Catalogue
	settings  job.Settings
	standing  *job.Standing
	places    job.Places
}

// catalogue is the stock that comes with the program.
func catalogue() (*stock.Catalogue, error) { return stock.Load(fs.FS(assets.FS), "stock.json") }

// open reads the one piece or job that is named, mends it, applies the flags and stands the piece; a solid piece that is to be hollow gets its
// field.
func open(ctx context.Context, words []string, flags *stackFlags) (*bench, error) {
	name, err := onePiece(words)
	if err != nil {
		return nil, err
	}
	c, err := catalogue()
	if err != nil {
		return nil, err
	}
	kept, err := job.Open(ctx, name, "", c)
	if err != nil {
		return nil, err
	}
	p, s := kept.Piece, kept.Settings
	if p, s, err = flags.settle(ctx, p, s, c); err != nil {
		return nil, err
	}
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		return nil, err
	}
	if p.Solid() && s.Wall > 0 {
		grid, err := p.Hollow(ctx, nil)
		if err != nil {
			return nil, err
		}
		if st, err = st.WithField(ctx, grid); err != nil {
			return nil, err
		}
	}
	return &bench{c, s, st, kept.Places}, nil
}

// settle is the mended piece and all settings as the flags want them. A height is first that of the scan, so that the saw
// knows its millimetres, and in the end that of the piece.
func (f *stackFlags) settle(ctx context.Context, p *job.Piece, s job.Settings, c *stock.Catalogue) (*job.Piece, job.Settings, error) {
	s, err := f.applyStand(s, p)
	if err != nil {
		return nil, s, err
	}
	if s, err = f.applyMend(s, p); err != nil {
		return nil, s, err
	}
	if s, err = f.applyStack(s, c); err != nil {
		return nil, s, err
	}
	if err = s.Check(c); err != nil {
		return nil, s, err
	}
	if p, err = p.Mend(ctx, s, nil); err != nil {
		return nil, s, err
	}
	s, err = f.applyStand(s, p)
	return p, s, err
}
