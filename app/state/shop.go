package state

import (
	"slices"

	"grainstack/app/task"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// A Shop is what is known of the workshop: parts on panels, joints and the glue-up.
type Shop struct {
	bench *Reckoned

	Last *workshop.Workshop // the newest, maybe of other settings or places
	Of   ShopKey            // that it is of
	past []laid             // a few of before, for undo and redo
}

// A laid is a workshop and what it is of.
type laid struct {
	key  ShopKey
	shop *workshop.Workshop
}

// mostPast is how many workshops are kept for undo and redo; each holds a few MB.
const mostPast = 6

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

// kept is a workshop of before, nil where none of that key is kept.
func (s *Shop) kept(key ShopKey) *workshop.Workshop {
	for _, p := range s.past {
		if p.key == key {
			return p.shop
		}
	}
	return nil
}

// Key is the key of the present workshop.
func (s *Shop) Key() ShopKey {
	return ShopKey{s.bench.Standing, s.bench.Settings(), s.bench.Places(), s.bench.Shelf.Now}
}

// Newest is the newest workshop; now says that it is of the present settings and places.
func (s *Shop) Newest() (v *workshop.Workshop, now bool) {
	return s.Last, s.Last != nil && s.Of == s.Key() && !s.bench.Stale()
}

// Placing reports whether places alone keep the workshop from being the present one: then what is on the screen is right but
// for what was put last.
func (s *Shop) Placing() bool {
	return s.Last != nil && s.Of.Standing == s.bench.Standing && s.Of.Settings == s.bench.Settings() && !s.bench.Stale()
}

// Layer is what a layer is made in, counted from 1; nil while that is not known.
func (s *Shop) Layer(number int) *workshop.LayerParts {
	v, now := s.Newest()
	if !now || number < 1 || number > len(v.Layers) {
		return nil
	}
	return &v.Layers[number-1]
}

// Stale reports whether the workshop is of other settings.
func (s *Shop) Stale() bool {
	_, now := s.Newest()
	return !now && !s.Placing()
}

// Fault says why the parts can't be laid out, "" where they can.
func (s *Shop) Fault() string {
	if s.bench.Tasks.Shop.Of(s.Key()) == task.Failed {
		return s.bench.Tasks.Shop.Fault
	}
	return ""
}

// Off reports whether laying the parts out was called off as things are now.
func (s *Shop) Off() bool { return s.bench.Tasks.Shop.Of(s.Key()) == task.Off }

// Picked is the part that is picked: the last that was clicked, or the first of the picked layer.
func (s *Shop) Picked(v *workshop.Workshop) (id panel.ID, ok bool) {
	layer, last := s.bench.Layer(), s.bench.Selected.Part
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
