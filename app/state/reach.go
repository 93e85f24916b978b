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
	Last    *job.Reached // the newest, maybe of older settings
	Of      *job.Piece   // that it is of
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
	r := &b.Reach
	if r.Last != nil && r.Last.For.CarvesLike(b.Settings()) && b.Stands() && r.Of == b.Standing.Piece {
		return r.Last
	}
	return nil
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
