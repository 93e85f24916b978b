package state

import (
	"slices"

	"grainstack/app/task"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

// A ShopKey is all that a workshop hangs on.
type ShopKey struct {
	Standing *job.Standing
	Settings job.Settings
	Places   *job.Places
	Stock    *stock.Catalogue
}

// A Shop is what is known of the workshop: parts on panels, joints and the glue-up.
type Shop struct {
	Last *workshop.Workshop // the newest, maybe of other settings or places
	Of   ShopKey            // that it is of
	past []laid             // a few of before, for undo and redo
	told figuresTold
}

// A laid is a workshop and what it is of.
type laid struct {
	key  ShopKey
	shop *workshop.Workshop
}

// mostPast is how many workshops are kept for undo and redo; each holds a few MB.
const mostPast = 6

// A figuresTold is figures with what the workshop has to say, and what they were put together from.
type figuresTold struct {
	figures, with *job.Figures
	shop          *workshop.Workshop
	standing      *job.Standing
	asides        []finding.Aside
	aside         []finding.AsidePlace // that are not among what needs a look
}

// Take takes a workshop, which may be only the first layout found.
func (s *Shop) Take(key ShopKey, v *workshop.Workshop) {
	s.Last, s.Of = v, key
	if v.Improved {
		s.keep(laid{key, v})
	}
}

// keep keeps a workshop, of each key the newest.
func (s *Shop) keep(one laid) {
	all := slices.DeleteFunc(slices.Clone(s.past), func(p laid) bool { return p.key == one.key || p.key.Standing != one.key.Standing })
	all = append(all, one)
	s.past = all[max(0, len(all)-mostPast):]
}

// Past is a workshop of before, nil where none of that key is kept.
func (s *Shop) Past(key ShopKey) *workshop.Workshop {
	for _, p := range s.past {
		if p.key == key {
			return p.shop
		}
	}
	return nil
}

// ShopKey is the key of the present workshop.
func (b *Bench) ShopKey() ShopKey {
	return ShopKey{b.Standing, b.Settings(), b.Places(), b.Shelf.Now}
}

// Workshop is the newest workshop; now says that it is of the present settings and places.
func (b *Bench) Workshop() (v *workshop.Workshop, now bool) {
	s := &b.Shop
	return s.Last, s.Last != nil && s.Of == b.ShopKey() && !b.Stale()
}

// Placing reports whether places alone keep the workshop from being the present one: then what is on the screen is right but
// for what was put last.
func (b *Bench) Placing() bool {
	s := &b.Shop
	return s.Last != nil && s.Of.Standing == b.Standing && s.Of.Settings == b.Settings() && !b.Stale()
}

// Pieces is how many pieces a layer is made in: its parts, and more where joint lines split them. It is 0 while that is not known.
func (b *Bench) Pieces(layer int) int {
	v, now := b.Workshop()
	if !now || v.Withheld != "" {
		return 0
	}
	return v.Pieces(layer)
}

// ShopStale reports whether the workshop is of other settings.
func (b *Bench) ShopStale() bool {
	_, now := b.Workshop()
	return !now && !b.Placing()
}

// ShopFault says why the parts can't be laid out, "" where they can.
func (b *Bench) ShopFault() string {
	if b.Tasks.Shop.Of(b.ShopKey()) == task.Failed {
		return b.Tasks.Shop.Fault
	}
	return ""
}

// ShopOff reports whether laying the parts out was called off as things are now.
func (b *Bench) ShopOff() bool { return b.Tasks.Shop.Of(b.ShopKey()) == task.Off }

// PickedPart is the part that is picked: the last that was clicked, or the first of the picked layer.
func (b *Bench) PickedPart(v *workshop.Workshop) (id panel.ID, ok bool) {
	layer, last := b.Layer(), b.Selected.Part
	if _, known := v.Part(last); known && last.Layer == layer {
		return last, true
	}
	for _, p := range v.Parts {
		if p.Layer == layer {
			return p.ID, true
		}
	}
	return id, false
}
