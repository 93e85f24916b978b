package state

import (
	"image"
	"time"

	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/stock"
)

// Chosen is what the maker chose and how it is looked at.
type Chosen struct {
	*session.Session // settings, places and trials, with undo, and how pictures are looked at

	Path     string // of the job, "" until it was saved or opened
	Made     int    // one more than the revision that files were made of last, 0 for none
	Shelf    Shelf
	Selected Selected
	Screen   Screen
	Tasks    Tasks // how far the work for all of the bench is
}

// A Piece is the piece as it is mended, and what was chosen for it.
type Piece struct {
	Chosen
	Model *Model // nil until a piece has been opened
	Scan  Scan
}

// Reckoned is a piece with its figures.
type Reckoned struct {
	Piece
	Standing *job.Standing // nil until the piece has been stood; may be of an older stand
	Figures  *job.Figures  // as they are shown: with what is known of cutters and machine; nil where there are none
	Figured  Figured
	Reach    Reach
}

// A Bench is all that is on the bench. What it embeds knows nothing of what stands above it. Make it with New.
type Bench struct {
	Reckoned
	Shop    Shop
	Compass Compass
	Tried   Tried
}

// A Screen is what of the window pictures and work hang on.
type Screen struct {
	Dark      bool
	Trial     image.Point     // how large the small picture of a trial is, pixels
	Dragging  bool            // the hand is turning or moving a picture
	Turning   bool            // dragging on the finished piece turns the piece, not the view
	Sheet     string          // the name of the sheet in front
	Files     bool            // the page on which files are chosen is open
	Workshop  bool            // something that shows the workshop is in front: it is laid out at once
	Ways      []job.Settings  // of ways out in sight: small pictures of them are drawn
	Comparing bool            // trials stand side by side in the place of the panes
	Rooms     map[string]Room // by the name of the sheet in front; never written to: Arrange makes another
	Low       bool            // the window is so low that what stands at its foot takes as little as it can
}

// An Asking is when and for which revision of the settings something was asked for, and the stock to be worked with.
type Asking struct {
	Rev   int
	When  time.Time
	Stock *stock.Catalogue
}

// New is an empty bench with the stock on a shelf.
func New(s Shelf) *Bench {
	b := &Bench{Compass: newCompass()}
	b.Session, b.Shelf = session.New(job.Default(s.Mine)), s
	return b
}

// Now is what requests of a change that is made now carry.
func (b *Chosen) Now() Asking { return Asking{b.Revision(), time.Now(), b.Shelf.Now} }

// Stands reports whether the standing is that of the settings.
func (b *Reckoned) Stands() bool {
	return b.Standing != nil && b.Model != nil && b.Standing.Piece == b.Model.Piece && b.Standing.Stand == b.Settings().Stand()
}

// Stale reports whether the figures are of other settings than the present ones.
func (b *Reckoned) Stale() bool {
	if b.BeingMended() && !(b.Model.Piece == b.Scan.Raw.Piece && b.Model.Piece.Solid()) {
		return true
	}
	return b.Figures == nil || b.Figures.For != b.Settings() || !b.Stands()
}

// Provisional reports whether the figures will give way to others: they are stale, or of a scan that is still being mended. One
// that looks clean is reckoned with while it is looked through.
func (b *Reckoned) Provisional() bool { return b.Stale() || b.BeingMended() }

// Put lays another piece on the bench, with what a job has kept for it; nothing of the one before stays.
func (b *Bench) Put(m *Model) {
	b.Model, b.Standing, b.Figures, b.Figured = m, nil, nil, Figured{}
	b.Scan = Scan{Raw: m}
	b.Selected = Selected{Snag: Snag{Serial: b.Selected.Snag.Serial}}
	b.Path, b.Made = "", 0
	b.Replace(m.Settings, m.Job.Places, m.Job.Asides, m.Job.Trials...)
	b.Shelf.Now = b.Shelf.Mine
	if m.Job.Catalogue != nil {
		b.Shelf.Now = m.Job.Catalogue
	}
	b.Shop = Shop{}
	b.Compass.Found, b.Compass.Of, b.Compass.Pointed = nil, CompassKey{}, nil
	b.Tried = b.Tried.anew(b.Trials())
}

// Job is the job as it is on the bench.
func (b *Piece) Job() jobfile.Job {
	j := b.Model.Job
	j.Piece, j.Settings, j.Places, j.Trials, j.Asides = b.Model.Piece, b.Settings(), *b.Places(), b.Trials(), b.Asides()
	j.Catalogue, j.Saved = b.Shelf.Now, ""
	return j
}

// Kept is the job as it is kept for the case of a crash: with where it is saved.
func (b *Piece) Kept() jobfile.Job {
	j := b.Job()
	j.Saved = b.Path
	return j
}

// Recall puts on the bench what is known already or is a look-up: the piece as it was mended before, figures, a workshop of
// before; and it puts what is known of cutters and machine into the figures.
func (b *Bench) Recall() {
	if p := &b.Selected.Picking; p.Distance() > 0 && p.Turn != b.Settings().Turn {
		p.Points = nil // the maker is at something else
	}
	if key := b.MendKey(); key != b.Model.Key {
		if m := b.Scan.Find(key); m != nil {
			b.Exchange(m)
		}
	}
	if b.Stands() && b.Figured.Key != b.FigureKey() && b.Reckonable() {
		b.Reckon()
	}
	b.Dress()
	if v := b.Shop.Past(b.ShopKey()); v != nil && (b.Shop.Of != b.ShopKey() || !b.Shop.Last.Improved) {
		b.Shop.Take(b.ShopKey(), v)
	}
}
