package state

import (
	"slices"

	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mend"
	"grainstack/slicing/trial"
)

// A Piece is the piece as it is mended, and what was chosen for it.
type Piece struct {
	Chosen
	Model *Model // nil until a piece has been opened
	Scan  Scan
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

// MendKey is the key of the piece as the settings want it.
func (b *Piece) MendKey() MendKey { return MendKeyOf(b.Model.Piece, b.Settings()) }

// BeingMended reports whether another piece than the one on the bench is on its way.
func (b *Piece) BeingMended() bool {
	return b.Model != nil && b.Model.Key != b.MendKey() && !b.Tasks.Mend.GivenUp(b.MendKey())
}

// MendFault says why the piece is not as the settings want it, "" where it is or will be.
func (b *Piece) MendFault() string {
	if b.Model == nil {
		return ""
	}
	switch at := b.Tasks.Mend; at.Of(b.MendKey()) {
	case task.Off:
		return "Mending was called off: the piece is as it was before."
	case task.Failed:
		return at.Fault
	}
	return ""
}

// Rejoin puts a piece joined of other scans in the place of the one on the bench: what was chosen stays, as the frame is the same.
func (b *Piece) Rejoin(m *Model) {
	with := *m
	with.Job = b.Model.Job
	others := append(slices.Clone(b.Scan.Others), b.Scan.Raw)
	n := len(others) - mostOthers
	others = slices.DeleteFunc(others, func(o *Model) bool {
		n--
		return o.Plan() == m.Plan() || n >= 0 && o.Plan() != nil // no plan reads the piece of one file again
	})
	b.Model, b.Scan = &with, Scan{Raw: &with, Others: others}
	b.Selected.Finding, b.Selected.Picking.Points = 0, nil
}

// Blend is the width of the seams between scans that is wanted, by their longest side; 0 for a piece of one file.
func (b *Piece) Blend() float64 {
	switch at := b.Tasks.Join; {
	case at.State == task.Working:
		return at.Key.Blend
	case b.Model != nil && b.Model.Plan() != nil:
		return b.Model.Plan().Blend
	}
	return 0
}

// Exchange puts a piece that was mended otherwise in the place of the one on the bench.
func (b *Piece) Exchange(m *Model) {
	for _, one := range []*Model{b.Model, b.Scan.Raw} { // nothing had to be done to it
		if m.Piece == one.Piece && m.Grid == nil {
			with := *one
			with.Key = m.Key
			m = &with
		}
	}
	b.Model = m
	if m != b.Scan.Raw && m.Key != b.Scan.Raw.Key {
		b.Scan.keep(m)
	}
}

// Hollowed takes the model on the bench with its hollow.
func (b *Piece) Hollowed(m *Model) {
	with := *m
	with.Key = b.Model.Key
	b.Model = &with
	if with.Key == b.Scan.Raw.Key {
		b.Scan.Raw = &with
	} else {
		b.Scan.keep(&with)
	}
}

// HollowComes reports whether the hollow is being worked out, or will be.
func (b *Piece) HollowComes() bool { return b.Tasks.Hollow.State == task.Working }

// Surveyed takes what was found on the scan; the view stays at the same finding.
func (b *Piece) Surveyed(f *mend.Findings) {
	if at, ok := b.Finding(); ok { // the same place may have another number now
		b.Selected.Finding = slices.Index(f.List, at) + 1
	}
	b.Scan.Survey = f
}

// Finding is the one that the view is at.
func (b *Piece) Finding() (f mend.Finding, ok bool) {
	if b.Scan.Survey == nil || b.Selected.Finding < 1 || b.Selected.Finding > len(b.Scan.Survey.List) {
		return f, false
	}
	return b.Scan.Survey.List[b.Selected.Finding-1], true
}

// ToSaw is where the saw will go through the piece on the bench, while that has not been done: ok is false where the saw is
// not set.
func (b *Piece) ToSaw() (p mend.Plane, ok bool) {
	saw := b.Settings().Mend.Saw
	return saw, saw.On && b.BeingMended() && b.Model.Key.How.Saw != saw
}

// models are all that the bench has of the scan.
func (b *Piece) models() []*Model { return append([]*Model{b.Model, b.Scan.Raw}, b.Scan.Made...) }

// modelFor is the model of the piece as settings want it mended, nil where the bench has none.
func (b *Piece) modelFor(s job.Settings) *Model {
	key := MendKeyOf(b.Model.Piece, s)
	if key == b.Model.Key {
		return b.Model
	}
	return b.Scan.Find(key)
}

// KnownPieces are the pieces that the bench has.
func (b *Piece) KnownPieces() (all []trial.Tried) {
	for _, m := range b.models() {
		all = append(all, trial.Tried{Piece: m.Piece, Grid: m.Grid, How: m.Key.How})
	}
	return all
}
