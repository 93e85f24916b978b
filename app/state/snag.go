package state

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
)

// A Snag is the place that was picked of all that needs a look.
type Snag struct {
	On     bool
	Key    finding.Key
	Serial int         // counts what was picked: the view goes there once
	Cut    float64     // mm: what stands higher is taken off so that it is seen; 0 for nothing
	Stand  stack.Stand // that it is of
	Opened string      // the kind whose small places are listed one by one, "" for none
}

// SnagCut is the height above which the piece is taken off so that the picked place is seen, mm; 0 for nothing.
func (b *Chosen) SnagCut() float64 {
	s := &b.Selected.Snag
	if !s.On || s.Stand != b.Settings().Stand() {
		return 0
	}
	return s.Cut
}

// SnagGone reports whether a place is picked that needs no look any more, now that all is known.
func (b *Bench) SnagGone() bool {
	if !b.Selected.Snag.On || b.Provisional() || b.Figures == nil || !b.Figures.Settled && b.Figures.Withheld == "" {
		return false
	}
	_, now := b.Workshop()
	_, _, there := b.Snag()
	return !there && (b.Figures.Withheld != "" || now && b.Reached() != nil)
}

// Snags are what needs a look as things are now, the worst first, and the places that are set aside. They stay those of before
// while new ones are being worked out.
func (b *Bench) Snags() (open []finding.Finding, aside []finding.AsidePlace) {
	f := b.FiguresWithShop()
	if f == nil {
		return nil, nil
	}
	return f.Cautions, b.Shop.told.aside
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

// SnagPlace is the picked place where it lies somewhere on the piece.
func (b *Bench) SnagPlace() (f finding.Finding, p finding.Place, ok bool) {
	f, i, ok := b.Snag()
	if !ok || i < 0 || !f.Places[i].Placed {
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
