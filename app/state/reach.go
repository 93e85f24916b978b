package state

import (
	"path/filepath"

	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/wayout"
)

// A Reach is what is known of the cutters' reach, and of what the machine really took.
type Reach struct {
	Last    *job.Reached  // the newest, maybe of older settings
	Of      *job.Standing // that it is of
	Ways    []wayout.Way
	WaysFor job.Settings
	Sought  bool // ways out have been looked for
	Records []hours.Record
	Path    string // where records are kept, "" for nowhere
}

// Recall reads the minutes that were kept in a folder; without one they are kept for the sitting only.
func (r *Reach) Recall(dir string) {
	if dir == "" {
		return
	}
	r.Path = filepath.Join(dir, "minutes.json")
	all, err := jobfile.LoadRecords(r.Path)
	if err != nil {
		r.Path = "" // what can't be read is not written over
		return
	}
	r.Records = all
}

// Reached is what the cutters reach with the present settings, nil while that is not known.
func (b *Reckoned) Reached() *job.Reached {
	if r := b.Reach.Last; r != nil && r.For.CarvesLike(b.Settings()) && b.Stands() && b.Reach.Followed(b.Standing) {
		return r
	}
	return nil
}

// Followed reports whether the cutters were followed through what stands there, and not through the same piece before its hollow
// was known, or the scan before it was mended. The piece may have been turned since.
func (r *Reach) Followed(st *job.Standing) bool {
	return r.Last != nil && st != nil && r.Of.Piece == st.Piece && (r.Last.For.Wall == 0 || r.Of.Grid == st.Grid)
}

// ReachedInSight is the same while places that need a look are marked.
func (b *Reckoned) ReachedInSight() *job.Reached {
	if !b.View.Marks || b.Stale() {
		return nil
	}
	return b.Reached()
}

// Ways are the ways out of what can't be reached; sought is false while they have not been looked for with these settings.
func (b *Reckoned) Ways() (all []wayout.Way, sought bool) {
	if b.Reach.Sought && b.Reach.WaysFor == b.Settings() {
		return b.Reach.Ways, true
	}
	return nil, false
}
