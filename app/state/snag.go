package state

import (
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/workshop"
)

// SnagGone reports whether a place is picked that needs no look any more, now that all is known.
func (b *Bench) SnagGone() bool {
	if !b.Selected.Snag.On || b.Provisional() || b.Figures == nil || !b.Figures.Settled && b.Figures.Withheld.None() {
		return false
	}
	_, now := b.Shop.Newest()
	_, _, there := b.Snag()
	return !there && (!b.Figures.Withheld.None() || now && b.Reached() != nil)
}

// SnagInDoubt reports whether a place is picked of which it is not known whether it needs a look as things are now.
func (b *Bench) SnagInDoubt() bool {
	_, _, there := b.Snag()
	return b.Selected.Snag.On && (b.Stale() || !there)
}

// Snags are what needs a look as things are now, the worst first, and the places that are set aside. They stay those of before
// while new ones are being worked out.
func (b *Bench) Snags() (open []finding.Finding, aside []finding.AsidePlace) {
	f := b.FiguresWithShop()
	if f == nil {
		return nil, nil
	}
	return f.Cautions, b.told.aside
}

// Snag is the picked place and its finding; place is -1 for a finding without places, ok false where none is picked or it is gone.
func (b *Bench) Snag() (f finding.Finding, place int, ok bool) {
	s := &b.Selected.Snag
	if !s.On || b.Standing == nil {
		return f, 0, false
	}
	open, _ := b.Snags()
	i, place, ok := s.Key.Find(open, b.Standing.Placed.Placement)
	if !ok {
		return f, 0, false
	}
	return open[i], place, true
}

// SnagPlace is the picked place where there is a spot of the piece to look at.
func (b *Bench) SnagPlace() (f finding.Finding, p finding.Place, ok bool) {
	f, i, ok := b.Snag()
	if !ok || i < 0 || !f.Places[i].Seen() {
		return f, p, false
	}
	return f, f.Places[i], true
}

// KeyOf is the key of a place as the piece stands now.
func (b *Bench) KeyOf(f finding.Finding, place int) finding.Key {
	var p finding.Place
	if place >= 0 && place < len(f.Places) {
		p = f.Places[place]
	}
	to := geom.Placement{Turn: geom.NoTurn(), Scale: 1}
	if b.Standing != nil {
		to = b.Standing.Placed.Placement
	}
	return finding.KeyOf(f.Kind, p, to)
}

// A figuresTold is figures with what the workshop has to say, and what they were put together from.
type figuresTold struct {
	figures, with *job.Figures
	shop          *workshop.Workshop
	standing      *job.Standing
	asides        []finding.Aside
	aside         []finding.AsidePlace // that are not among what needs a look
}

// FiguresWithShop are the figures with what the workshop has to say among what needs a look, but for what is set aside.
func (b *Bench) FiguresWithShop() *job.Figures {
	f := b.Figures
	if f == nil {
		return nil
	}
	v, now := b.Shop.Newest()
	if !now {
		v = nil
	}
	t, asides := &b.told, b.Asides()
	if t.figures != f || t.shop != v || t.standing != b.Standing || !slices.Equal(t.asides, asides) {
		with := *f
		if v != nil && v.Withheld.None() {
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
