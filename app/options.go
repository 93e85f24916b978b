package app

import (
	"context"
	"io"
	"io/fs"

	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// Options are what the window is opened with.
type Options struct {
	Catalogue *stock.Catalogue
	Assets    fs.FS  // fonts/Lato-Regular.ttf and fonts/Lato-Bold.ttf
	Icon      []byte // a PNG picture for the window
	Version   string

	// Path is a mesh or a job to begin with; without one the window begins with what Piece makes.
	Path  string
	Scans []string // that are joined with the one at Path
	Piece func(context.Context) (*job.Piece, error)

	// Trace logs one line for each shown frame to Log: what, for which revision of the settings, when asked, when shown.
	Trace bool
	Log   io.Writer // standard error where nil

	// State is the folder in which unsaved work is kept for the case of a crash; Run fills it in where it is "".
	State string

	// Stock is the maker's own stock file, "" for none.
	Stock string
}
