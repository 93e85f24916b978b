package finding

import (
	"fmt"
	"slices"

	"grainstack/slicing/geom"
)

// A Key tells a place of a finding from others, on however the piece stands and whatever else changes a little.
type Key struct {
	Kind   string   `json:"kind"` // as Kind.String names it
	Own    geom.Vec `json:"at"`   // in the piece's own frame, where Placed
	Placed bool     `json:"placed,omitempty"`
	Layer  int      `json:"layer,omitempty"` // where not Placed
	Part   int      `json:"part,omitempty"`
}

// sameSpot is how far from where it was, mm, and from how far it reached, a place may lie and still be the same.
const sameSpot = 8

// KeyOf is the key of a place; the finding has none of its own where p is the zero value. It is of the stand that the placement
// leads to.
func KeyOf(k Kind, p Place, to geom.Placement) Key {
	key := Key{Kind: k.String(), Layer: p.Layer, Part: p.Part}
	if p.Placed {
		key = Key{Kind: k.String(), Own: to.Back(p.At), Placed: true}
	}
	return key
}

// Is reports whether the key is that of a place of a kind.
func (k Key) Is(kind Kind, p Place, to geom.Placement) bool {
	if k.Kind != kind.String() || k.Placed != p.Placed {
		return false
	}
	if !k.Placed {
		return k.Layer == p.Layer && k.Part == p.Part
	}
	return to.Apply(k.Own).Sub(p.At).Len() <= sameSpot+p.Reach
}

// Find is the place that a key is of, the nearest where there are several; place is -1 where the finding has none.
func (k Key) Find(all []Finding, to geom.Placement) (finding, place int, ok bool) {
	least := 0.0
	for i, f := range all {
		if len(f.Places) == 0 && k.Is(f.Kind, Place{}, to) {
			return i, -1, true
		}
		for j, p := range f.Places {
			if d := to.Apply(k.Own).Sub(p.At).Len(); k.Is(f.Kind, p, to) && (!ok || d < least) {
				finding, place, least, ok = i, j, d, true
			}
		}
	}
	return finding, place, ok
}

// An Aside is a place that the maker will see to by hand, with a note.
type Aside struct {
	Key  Key    `json:"place"`
	Note string `json:"note,omitempty"`
}

// mostAside and longestNote bound what is kept.
const (
	mostAside   = 1000
	longestNote = 400
)

// An AsidePlace is a place that is set aside: a finding with it alone.
type AsidePlace struct {
	Finding
	Aside
}

// Open divides findings into those that still need a look and the places that are set aside, in the same order.
func Open(all []Finding, asides []Aside, to geom.Placement) (open []Finding, aside []AsidePlace) {
	if len(asides) == 0 {
		return all, nil
	}
	is := func(f Finding, p Place) (Aside, bool) {
		i := slices.IndexFunc(asides, func(a Aside) bool { return a.Key.Is(f.Kind, p, to) })
		if i < 0 {
			return Aside{}, false
		}
		return asides[i], true
	}
	for _, f := range all {
		if len(f.Places) == 0 {
			if a, off := is(f, Place{}); off {
				aside = append(aside, AsidePlace{f, a})
			} else {
				open = append(open, f)
			}
			continue
		}
		left := f
		left.Places = nil
		for _, p := range f.Places {
			if a, off := is(f, p); off {
				one := f
				one.Places = []Place{p}
				aside = append(aside, AsidePlace{one, a})
			} else {
				left.Places = append(left.Places, p)
			}
		}
		if len(left.Places) > 0 {
			open = append(open, left)
		}
	}
	return open, aside
}

// Set is the list with places set aside under a note; those that were are noted anew.
func Set(asides []Aside, note string, keys ...Key) []Aside {
	if r := []rune(note); len(r) > longestNote {
		note = string(r[:longestNote])
	}
	out := Take(asides, keys...)
	for _, k := range keys {
		if len(out) < mostAside {
			out = append(out, Aside{k, note})
		}
	}
	return out
}

// Take is the list without some places: they need a look again.
func Take(asides []Aside, keys ...Key) []Aside {
	return slices.DeleteFunc(slices.Clone(asides), func(a Aside) bool { return slices.Contains(keys, a.Key) })
}

// CheckAsides refuses a list that no program writes.
func CheckAsides(asides []Aside) error {
	if len(asides) > mostAside || slices.ContainsFunc(asides, func(a Aside) bool { return len(a.Note) > 4*longestNote }) {
		return fmt.Errorf("the job sets more than %d places aside, or with longer notes than there are", mostAside)
	}
	return nil
}
