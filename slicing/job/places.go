package job

import (
	"fmt"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
)

// Places are what the maker has put by hand: parts on panels, tabs, pins and joint lines. A value never changes; the methods
// give new ones. The zero value leaves everything to the program.
type Places struct {
	Parts  []Place    `json:"parts,omitempty"`
	Tabs   []TabPlace `json:"tabs,omitempty"`
	Pins   []PinPlace `json:"pins,omitempty"`
	Splits []Split    `json:"splits,omitempty"`
}

// A Place is a part on a panel, counted from 1.
type Place struct {
	Panel int `json:"panel"`
	panel.Placed
}

// A TabPlace has the tabs of a part where the maker wants them, on the stand.
type TabPlace struct {
	Part panel.ID    `json:"part"`
	At   []geom.Vec2 `json:"at"`
}

// A PinPlace has the pins at the joint under a layer where the maker wants them, on the stand.
type PinPlace struct {
	Layer int         `json:"layer"` // the upper one
	At    []geom.Vec2 `json:"at"`
}

// A Split divides a part along the upright plane through A and B, on the stand. The piece on the left, seen from A to B,
// keeps the part's number; the other gets the next free one of its layer.
type Split struct {
	Part panel.ID  `json:"part"`
	A    geom.Vec2 `json:"a"`
	B    geom.Vec2 `json:"b"`
}

// PlacesOf are places that hold a whole layout, with the tabs, pins and splits of p.
func (p Places) PlacesOf(l panel.Layout) Places {
	p.Parts = nil
	for _, q := range l.Panels {
		for _, at := range q.Placed {
			p.Parts = append(p.Parts, Place{q.Number, at})
		}
	}
	return p
}

// Layout is the parts as panels; its shares used are not known.
func (p Places) Layout() panel.Layout {
	parts := slices.Clone(p.Parts)
	slices.SortStableFunc(parts, func(a, b Place) int { return a.Panel - b.Panel })
	var l panel.Layout
	for _, q := range parts {
		if n := len(l.Panels); n == 0 || l.Panels[n-1].Number != q.Panel {
			l.Panels = append(l.Panels, panel.Panel{Number: q.Panel})
		}
		on := &l.Panels[len(l.Panels)-1]
		on.Placed = append(on.Placed, q.Placed)
	}
	return l
}

// With puts a part on a panel, in the place of where it was.
func (p Places) With(number int, at panel.Placed) Places {
	p.Parts = slices.DeleteFunc(slices.Clone(p.Parts), func(q Place) bool { return q.Part == at.Part })
	p.Parts = append(p.Parts, Place{number, at})
	return p
}

// WithTabs puts the tabs of a part; none leaves them to the program again.
func (p Places) WithTabs(part panel.ID, at []geom.Vec2) Places {
	p.Tabs = slices.DeleteFunc(slices.Clone(p.Tabs), func(q TabPlace) bool { return q.Part == part })
	if len(at) > 0 {
		p.Tabs = append(p.Tabs, TabPlace{part, slices.Clone(at)})
	}
	return p
}

// WithPins puts the pins under a layer; none leaves them to the program again.
func (p Places) WithPins(layer int, at []geom.Vec2) Places {
	p.Pins = slices.DeleteFunc(slices.Clone(p.Pins), func(q PinPlace) bool { return q.Layer == layer })
	if len(at) > 0 {
		p.Pins = append(p.Pins, PinPlace{layer, slices.Clone(at)})
	}
	return p
}

// WithSplit divides a part; WithoutSplit puts it together again. Its pieces are laid anew.
func (p Places) WithSplit(s Split) Places {
	p = p.WithoutSplit(s.Part)
	p.Splits = append(slices.Clone(p.Splits), s)
	return p
}

// WithoutSplit takes back the split of a part.
func (p Places) WithoutSplit(part panel.ID) Places {
	p.Splits = slices.DeleteFunc(slices.Clone(p.Splits), func(q Split) bool { return q.Part == part })
	p.Parts = slices.DeleteFunc(slices.Clone(p.Parts), func(q Place) bool { return q.Part.Layer == part.Layer })
	p.Tabs = slices.DeleteFunc(slices.Clone(p.Tabs), func(q TabPlace) bool { return q.Part.Layer == part.Layer })
	return p
}

// MostPlaces bounds what a job file may hold of any kind.
const MostPlaces = 100_000

// Check refuses places that no program writes.
func (p Places) Check() error {
	if len(p.Parts) > MostPlaces || len(p.Tabs) > MostPlaces || len(p.Pins) > MostPlaces || len(p.Splits) > MostPlaces {
		return fmt.Errorf("the job holds more than %d places of parts, tabs or pins", MostPlaces)
	}
	for _, q := range p.Parts {
		if q.Panel < 1 || q.Panel > MostPlaces {
			return fmt.Errorf("%v lies on panel %d, which there can't be", q.Part, q.Panel)
		}
	}
	return nil
}

// TabsOf are the places of a part's tabs that the maker chose.
func (p Places) TabsOf(part panel.ID) []geom.Vec2 {
	for _, t := range p.Tabs {
		if t.Part == part {
			return t.At
		}
	}
	return nil
}

// PinsOf are the places of a joint's pins that the maker chose, by the layer above it.
func (p Places) PinsOf(layer int) []geom.Vec2 {
	for _, t := range p.Pins {
		if t.Layer == layer {
			return t.At
		}
	}
	return nil
}

// SplitsOf are the joint lines of a layer.
func (p *Places) SplitsOf(layer int) (out []Split) {
	for _, s := range p.Splits {
		if s.Part.Layer == layer {
			out = append(out, s)
		}
	}
	return out
}
