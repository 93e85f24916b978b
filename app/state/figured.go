package state

import (
	"context"
	"slices"

	"grainstack/slicing/field"
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

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

// Reckon looks the present figures up.
func (b *Reckoned) Reckon() {
	f, err := job.Instant(context.Background(), b.Standing, b.Settings(), b.Shelf.Now)
	if err != nil {
		b.Fail(b.FigureKey(), err)
		return
	}
	b.Take(b.FigureKey(), f)
}

// Take takes figures as they were worked out.
func (b *Reckoned) Take(key FigureKey, f *job.Figures) {
	base := f
	if !f.Settled {
		base = f.KeptFrom(b.Figures, b.Standing)
	}
	b.Figured = Figured{Raw: f, Key: key, base: base}
	b.Dress()
	b.Pick(b.Layer(), len(f.Layers))
}

// Fail takes it that there are no figures; what else is on the bench stays.
func (b *Reckoned) Fail(key FigureKey, err error) {
	b.Figures, b.Figured = nil, Figured{Key: key, Fault: err.Error()}
}

// Dress puts what is known of the cutters and of the machine into the figures: simulated minutes where they are of the same
// settings, else an estimate tied to the newest simulation of the same piece. Nothing changes while that is the same.
func (b *Reckoned) Dress() {
	d := dressing{base: b.Figured.base, reached: b.Reach.Last, records: len(b.Reach.Records)}
	if !b.Reach.Followed(b.Standing) {
		d.reached = nil
	}
	if d.base == nil || d == b.Figured.told {
		return
	}
	b.Figured.told, b.Figures = d, d.base
	if d.base.Withheld == "" {
		b.Figures = d.base.TiedTo(d.reached).Learned(hours.Learn(b.Reach.Records, d.base.For.Machine))
	}
}

// FiguresWithShop are the figures with what the workshop has to say among what needs a look, but for what is set aside.
func (b *Bench) FiguresWithShop() *job.Figures {
	f := b.Figures
	if f == nil {
		return nil
	}
	v, now := b.Workshop()
	if !now {
		v = nil
	}
	t, asides := &b.Shop.told, b.Asides()
	if t.figures != f || t.shop != v || t.standing != b.Standing || !slices.Equal(t.asides, asides) {
		with := *f
		if v != nil && v.Withheld == "" {
			with.Totals.HandsOnMin = v.HandsOnMin(b.Shelf.Now)
		}
		*t = figuresTold{figures: f, with: &with, shop: v, standing: b.Standing, asides: asides}
		with.Cautions = workshop.NeedsALook(f, v)
		if b.Standing != nil {
			with.Cautions, t.aside = finding.Open(with.Cautions, asides, b.Standing.Placed.Placement)
		}
	}
	return t.with
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
