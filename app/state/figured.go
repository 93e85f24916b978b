package state

import (
	"context"

	"grainstack/app/task"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
)

// Figured is where the figures on the bench come from.
type Figured struct {
	Raw   *job.Figures // the newest as they were worked out
	Key   FigureKey    // that they are of
	Fault string       // why there are none, "" where there are
	base  *job.Figures // with what an older walk still says
	told  dressing     // that was put on them last
}

// A dressing is what is known of the cutters and of the machine.
type dressing struct {
	base    *job.Figures
	reached *job.Reached
	records int
}

// StandKey is the key of the present standing.
func (b *Reckoned) StandKey() StandKey {
	return StandKey{b.Model.Piece, b.Model.Grid, b.Settings().Stand(), !b.Gesture()}
}

// FigureKey is the key of the present figures.
func (b *Reckoned) FigureKey() FigureKey { return FigureKey{b.Standing, b.Settings(), b.Shelf.Now} }

// Reckonable reports whether the present figures are a look-up. Upright pockets take longer: they are left to a task.
func (b *Reckoned) Reckonable() bool {
	s := b.Settings()
	return !(s.Core == job.Straight && s.Wall > 0 && b.Standing.Table != nil)
}

// reckon looks the present figures up.
func (b *Reckoned) reckon() {
	f, err := job.Instant(context.Background(), b.Standing, b.Settings(), b.Shelf.Now)
	if err != nil {
		b.Fail(b.FigureKey(), err)
		return
	}
	b.take(b.FigureKey(), f)
}

// take takes figures as they were worked out.
func (b *Reckoned) take(key FigureKey, f *job.Figures) {
	base := f
	if !f.Settled {
		base = f.KeptFrom(b.Figures, b.Standing)
	}
	b.Figured = Figured{Raw: f, Key: key, base: base}
	b.dress()
	b.Pick(b.Layer(), len(f.Layers))
}

// Fail takes it that there are no figures; what else is on the bench stays.
func (b *Reckoned) Fail(key FigureKey, err error) {
	b.Figures, b.Figured = nil, Figured{Key: key, Fault: err.Error()}
}

// dress puts what is known of the cutters and of the machine into the figures: simulated minutes where they are of the same
// settings, else an estimate tied to the newest simulation of the same piece. Nothing changes while that is the same.
func (b *Reckoned) dress() {
	d := dressing{base: b.Figured.base, reached: b.Reach.Last, records: len(b.Reach.Records)}
	if !b.Reach.Followed(b.Standing) {
		d.reached = nil
	}
	if d.base == nil || d == b.Figured.told {
		return
	}
	b.Figured.told, b.Figures = d, d.base
	if d.base.Withheld.None() {
		b.Figures = d.base.TiedTo(d.reached).Learned(hours.Learn(b.Reach.Records, d.base.For.Machine))
	}
}

// Why says why there are no figures.
func (b *Reckoned) Why() string {
	switch {
	case b.Figured.Fault != "":
		return b.Figured.Fault
	case b.Model == nil:
		return "no piece is open yet."
	}
	return "it is being worked out."
}

// Reckoned is a piece with its figures.
type Reckoned struct {
	Piece
	Standing *job.Standing // nil until the piece has been stood; may be of an older stand
	Figures  *job.Figures  // as they are shown: with what is known of cutters and machine; nil where there are none
	Figured  Figured
	Reach    Reach
}

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

// AtRest reports whether nothing is being worked out for the bench, that trials would take the cores from.
func (b *Reckoned) AtRest() bool {
	t := &b.Tasks
	return !b.Stale() && !b.Screen.Dragging && t.Reach.State != task.Working && t.Ways.State != task.Working && t.Settle.State != task.Working &&
		(b.Figures.Settled && b.Figures.CoreKnown || !b.Figures.Withheld.None())
}
