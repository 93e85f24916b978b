package state

import (
	"image"
	"time"

	"grainstack/render/look"
	"grainstack/slicing/field"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/scans"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// An Asking is when and for which revision of the settings something was asked for, and the stock to be worked with.
type Asking struct {
	Rev   int
	When  time.Time
	Stock *stock.Catalogue
}

// An Opening is a piece that is asked for; without a path, the one to begin with.
type Opening struct {
	Asking
	Path  string
	Plan  *scans.Plan // of several scans, of which Path is the first; nil for a piece of one file, or a job
	Moved string      // where the piece of the job at path is now, "" for where the job says
}

// A MendKey is all that a mended piece hangs on: the scan, and what of the settings changes its surface.
type MendKey struct {
	Scan *job.Scan
	How  mend.Settings
}

// MendKeyOf is the key of a piece's scan, mended as the settings want it.
func MendKeyOf(p *job.Piece, s job.Settings) MendKey { return MendKey{p.Scan, s.Mending()} }

// A SurveyKey is all that the findings of a scan hang on.
type SurveyKey struct {
	Scan      *job.Scan
	Crossings bool // it is looked over for where it runs through itself, too
}

// A StandKey is all that a standing hangs on.
type StandKey struct {
	Piece *job.Piece
	Grid  *field.Grid // nil while the hollow is not known
	Stand stack.Stand
	Rests bool // the hand has let go: it is not put off any more
}

// A FigureKey is all that figures hang on.
type FigureKey struct {
	Standing *job.Standing
	Settings job.Settings
	Stock    *stock.Catalogue
}

// A ShopKey is all that a workshop hangs on.
type ShopKey struct {
	Standing *job.Standing
	Settings job.Settings
	Places   *job.Places
	Stock    *stock.Catalogue
}

// A CompassKey is all that directions hang on: the piece and the settings without its turn.
type CompassKey struct {
	Piece    *job.Piece
	Settings job.Settings
	Stock    *stock.Catalogue
}

// A TryKey is all that a ticket hangs on.
type TryKey struct {
	Scan     *job.Scan
	Settings job.Settings
	Stock    *stock.Catalogue
}

// A PictureKey is what a small picture hangs on besides the trial's settings.
type PictureKey struct {
	Body *look.Body // nil for one that only the trial's own piece has
	Dark bool
	Size image.Point
}

// A Chore is one kind of work on a trial.
type Chore int

// A Doing tells one piece of work on a trial from another.
type Doing struct {
	Chore Chore
	Key   TryKey
	Pic   PictureKey
}

// The chores.
const (
	Nothing Chore = iota
	Reckoning
	Drawing
	Following // the cutters, and laying the panels: long
)
