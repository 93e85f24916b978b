package finding

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A Finding is one thing that needs a look, with all the places where it is found: like ones are one finding.
type Finding struct {
	Kind    Kind
	Places  []Place    // the worst first; none where it concerns the whole stack
	Figures [3]float64 // what its sentence tells besides, see the kinds
	Name    string     // of a board or a cutter, see the kinds
	Why     unit.Said  // a reason in words of its own, see the kinds
}

// A Place is where something needs a look.
type Place struct {
	Layer  int      // from 1; the lowest where it goes on through several, 0 where it lies in none
	To     int      // the highest layer; 0 where that is Layer
	Part   int      // of the layer, from 1; 0 where it is none by itself
	At     geom.Vec // mm on the stand
	Placed bool     // it is At; else it is all of its layer, which is to be looked at At where InWood
	InWood bool     // At is in the middle of the wood of its layer or part
	Where  Where
	Size   float64    // mm, mm² or mm³, see the kinds
	Reach  float64    // mm that it goes round At; 0 where that is not known
	More   [2]float64 // other figures of this place, see the kinds
	Panel  int        // that More is a place on, in mm; 0 for none
	Name   string     // of the part, the cutter or the side, see the kinds
}

// In reports whether a place lies in a layer.
func (p Place) In(layer int) bool {
	return layer >= p.Layer && layer <= max(p.Layer, p.To) && layer > 0
}

// Of is a finding of one kind at places, the worst first.
func Of(k Kind, places ...Place) Finding {
	f := Finding{Kind: k, Places: places}
	f.order()
	return f
}

// InLayers is a finding of one kind in layers, as they come.
func InLayers(k Kind, layers ...int) Finding {
	f := Finding{Kind: k}
	for _, l := range layers {
		f.Places = append(f.Places, Place{Layer: l})
	}
	return f
}

// With is the finding with figures.
func (f Finding) With(figures ...float64) Finding {
	copy(f.Figures[:], figures)
	return f
}

// Because is the finding with a reason.
func (f Finding) Because(why unit.Said) Finding {
	f.Why = why
	return f
}

// Named is the finding with a name.
func (f Finding) Named(name string) Finding {
	f.Name = name
	return f
}

// order puts the worst places first.
func (f *Finding) order() {
	row := f.Kind.row()
	slices.SortStableFunc(f.Places, func(a, b Place) int {
		if row.least {
			return cmp.Compare(a.Size, b.Size)
		}
		return cmp.Compare(b.Size, a.Size)
	})
}

// Worst is the worst place, the zero value where the finding has none.
func (f Finding) Worst() Place {
	if len(f.Places) == 0 {
		return Place{}
	}
	return f.Places[0]
}

// Layer is that of the worst place, 0 for none.
func (f Finding) Layer() int { return f.Worst().Layer }

// Layers are those of all places, rising, each once.
func (f Finding) Layers() []int {
	var all []int
	for _, p := range f.Places {
		for l := p.Layer; l > 0 && l <= max(p.Layer, p.To); l++ {
			all = append(all, l)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// sum is that of the sizes of some places.
func sum(places []Place) (sum float64) {
	for _, p := range places {
		sum += p.Size
	}
	return sum
}

// Seen reports whether there is a spot at which a place is to be looked at.
func (p Place) Seen() bool { return p.Placed || p.InWood }

// InWood are findings with a spot to look at for those places that are a whole layer or part: in the middle of its wood, and how far
// that goes round it, mm. Findings that have such places are copied.
func InWood(all []Finding, middle func(Place) (at geom.Vec, reach float64, ok bool)) []Finding {
	out := slices.Clone(all)
	for i := range out {
		places := slices.Clone(out[i].Places)
		for k := range places {
			p := &places[k]
			if p.Seen() || p.Layer == 0 {
				continue
			}
			p.At, p.Reach, p.InWood = middle(*p)
		}
		out[i].Places = places
	}
	return out
}

// Gather puts findings of several sources together: like ones become one, the worst kind first.
func Gather(lists ...[]Finding) []Finding {
	var out []Finding
	for _, f := range slices.Concat(lists...) {
		i := slices.IndexFunc(out, func(o Finding) bool {
			return o.Kind == f.Kind && o.Figures == f.Figures && o.Name == f.Name && o.Why.String() == f.Why.String()
		})
		if i < 0 {
			out = append(out, f)
			continue
		}
		one := out[i]
		one.Places = slices.Clip(one.Places)
		for _, p := range f.Places {
			if !slices.Contains(one.Places, p) {
				one.Places = append(one.Places, p)
			}
		}
		one.order()
		out[i] = one
	}
	slices.SortStableFunc(out, func(a, b Finding) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}

const (
	// mostTold is how many places of a finding are told one by one.
	mostTold = 5
	// small is the share of the worst place's size under which others are told together.
	small = 0.05
)

// Listed reports whether the places are worth a list: there are several, and the sentence doesn't name them itself.
func (f Finding) Listed() bool {
	return len(f.Places) > 1 && (f.Kind.row().measure != uncounted || f.Places[1].Placed)
}

// Told divides the places into those that are told one by one and small ones that are told together: two at least.
func (f Finding) Told() (told, rest []Place) {
	n := len(f.Places)
	for i, p := range f.Places {
		if i >= mostTold || i > 0 && !f.Kind.row().least && f.Kind.row().measure != uncounted && p.Size < small*f.Places[0].Size {
			n = i
			break
		}
	}
	if len(f.Places)-n == 1 {
		n++
	}
	return f.Places[:n:n], f.Places[n:]
}
