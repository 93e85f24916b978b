package state

import (
	"slices"

	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
)

// A SurveyKey is all that the findings of a scan hang on.
type SurveyKey struct {
	Scan      *job.Scan
	Crossings bool // it is looked over for where it runs through itself, too
}

// A Scan is what was read, what was made of it and what was found on it.
type Scan struct {
	Raw    *Model         // the scan as it was read
	Made   []*Model       // the last few that were made of it, the newest last
	Survey *mend.Findings // nil until it is known
}

// mostMade is how many mended pieces are kept, so that undo and redo show them at once.
const mostMade = 5

// keep puts a model at the end of those that were made, in place of an older state of it.
func (s *Scan) keep(one *Model) {
	s.Made = slices.DeleteFunc(s.Made, func(o *Model) bool { return o.Key == one.Key })
	s.Made = append(s.Made, one)
	if n := len(s.Made) - mostMade; n > 0 {
		s.Made = slices.Delete(s.Made, 0, n)
	}
}

// Find is the model for a key, nil where there is none.
func (s *Scan) Find(key MendKey) *Model {
	for _, one := range append([]*Model{s.Raw}, s.Made...) {
		if one.Key == key {
			return one
		}
	}
	return nil
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
