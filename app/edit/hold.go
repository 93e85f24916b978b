package edit

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// A Kind is what kind of thing can be held on the panel sheet.
type Kind int

// The kinds.
const (
	Nothing Kind = iota
	Part
	Tab
	Pin
)

// A Hold is what is held and where.
type Hold struct {
	What   Kind
	Part   panel.ID
	Number int          // of the panel that it is held over
	At     panel.Placed // where the part lies or is held
	Joint  int          // of the pin, from 0
	Item   int          // which of the part's tabs or of the joint's pins
	Spot   geom.Vec2    // where the tab or pin is held, on the stand
	Any    bool         // the part is held over the panel's number: anywhere on it will do
}

// Place is where the held thing is on the panel.
func (h Hold) Place() geom.Vec2 {
	if h.What == Part {
		return h.At.At
	}
	return h.At.Apply(h.Spot)
}

// To is the thing held elsewhere on its panel.
func (h Hold) To(place geom.Vec2) Hold {
	if h.What == Part {
		h.At.At = place
	} else {
		h.Spot = h.At.Back(place)
	}
	return h
}

// A Held is what came of a hold.
type Held struct {
	OK   bool         // it may be let go there
	Free panel.Placed // where a part that may lie anywhere would
	Hits []panel.Hit
	Room float64          // wood from the middle of a pin
	Near workshop.PinNear // to this
}

// A Hand is what is being moved on the panel sheet.
type Hand struct {
	Hold
	From, Good Hold // where it was taken, and where it was last that it may be
	Shop       *workshop.Workshop
	Keys       bool // the keys move it, and Enter lets it go
	Let        bool // it has been let go and is shown so until the workshop has followed
	Adding     Kind // the next click adds one
	Owed       bool // it has been let go before it is known where there is room for it
	grab       geom.Vec2
	seen       bool // what became of the hold is known
}

// Take is a hand that has taken something at a place of its panel.
func Take(v *workshop.Workshop, h Hold, at geom.Vec2) Hand {
	return Hand{Hold: h, From: h, Good: h, Shop: v, grab: h.Place().Sub(at)}
}

// TakeByKey is a hand that the keys move.
func TakeByKey(v *workshop.Workshop, h Hold) Hand {
	return Hand{Hold: h, From: h, Good: h, Shop: v, Keys: true}
}

// Holds reports whether something is held that can still be moved.
func (h *Hand) Holds() bool { return h.What != Nothing && !h.Let }

// Free reports whether nothing is held and nothing is to be added.
func (h *Hand) Free() bool { return h.What == Nothing && h.Adding == Nothing }

// Carry moves what is held with the pointer.
func (h *Hand) Carry(at geom.Vec2) {
	h.Hold = h.To(at.Add(h.grab))
	h.Any, h.seen = false, false
}

// Over carries a part over the number of a panel.
func (h *Hand) Over(number int) {
	if any := number != h.From.Number; number != h.Number || any != h.Any {
		h.Number, h.Any, h.seen = number, any, false
	}
}

// Waits reports whether it has to be found out yet where what is held may lie.
func (h *Hand) Waits() bool { return h.Any && !h.seen }

// Nudge moves what is held by keys.
func (h *Hand) Nudge(by geom.Vec2) {
	h.Hold = h.To(h.Place().Add(by))
	h.Keys = true
}

// Saw follows what came of a hold: the last place that is free is kept. It reports whether that is where the hand is now.
func (h *Hand) Saw(of Hold, what Held) bool {
	if of.What == Nothing || !h.Holds() || of.What != h.What || of.Part != h.Part {
		return false
	}
	if what.OK {
		h.Good = of
		if of.Any {
			h.Good.At, h.Good.Any = what.Free, false
		}
	}
	h.seen = h.seen || of == h.Hold
	return of == h.Hold
}
