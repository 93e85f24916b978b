package proof

import (
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	units "grainstack/slicing/unit"
)

// A Fault is where a program fails: the worst place of its kind.
type Fault struct {
	What  What
	File  string
	Line  int // of the file, 0 where no line does it
	Side  panel.Face
	At    geom.Vec // as the panel lies for the side, Z from the face that lies up
	Size  float64  // by how much, in mm or mm/min
	Bound float64  // what was allowed
	Text  string   // of the reader's own, or what of the machine it is
	Part  int      // which, from 1, 0 for none
}

// What is a kind of fault.
type What int

// The kinds, the worst first.
const (
	Unread     What = iota // a line that is not understood
	IntoBed                // deeper below the board than allowed
	IntoClamp              // the cutter or the collet nut meets a clamp
	IntoDowel              // it cuts a register dowel
	RapidCut               // a rapid goes through wood
	RapidSlant             // a rapid goes aside and up or down at once
	StillCut               // it cuts with the spindle at a stand
	IntoPart               // a part is cut into
	IntoTab                // a tab is cut into
	IntoFrame              // the panel's frame is cut into
	NutRubs                // the shank or the collet nut goes through wood
	TooFast                // a feed above the cutter's
	TooSteep               // down faster than the cutter plunges
	TooDeep                // more taken at once than the cutter may
	Beyond                 // more travel needed than the machine has
	WrongSpeed             // the spindle turns at another speed than the cutter's
	Loose                  // a part hangs on nothing
	NoHole                 // a register dowel's hole is missing, or isn't through
	LeftRough              // more left after the rough pass than wanted
	LeftFine               // more left after the finish
	NoStep                 // a step is missing or out of order
	whats
)

var whatNames = [whats]string{"unread", "bed", "clamp", "dowel", "rapid in wood", "slanting rapid", "spindle at a stand", "part", "tab", "frame", "nut", "feed",
	"plunge", "depth", "travel", "speed", "loose", "hole", "left by the rough pass", "left by the finish", "order"}

// String is the kind as it stands in lists.
func (w What) String() string {
	if w < 0 || w >= whats {
		return "unknown"
	}
	return whatNames[w]
}

// String is the sentence in metric units.
func (f Fault) String() string { return f.Says().String() }

// Says is a sentence for the maker: which program, what, where, by how much.
func (f Fault) Says() units.Said {
	at := f.File
	if f.Line > 0 {
		at += fmt.Sprintf(", line %d", f.Line)
	}
	place := units.Say("at X %s, Y %s on side %v", units.Mm(f.At.X), units.Mm(f.At.Y), f.Side)
	size, bound := units.Mm(f.Size), units.Mm(f.Bound)
	switch f.What {
	case Unread, NoStep:
		return units.Say("%s: %s", at, f.Text)
	case IntoBed:
		return units.Say("%s goes %s below the board %s, where %s are allowed", at, size, place, bound)
	case IntoClamp:
		if f.Text == nutName {
			return units.Say("%s brings the collet nut %s into a clamp %s: it wants lower clamps there, or a cutter that reaches further", at, size, place)
		}
		return units.Say("%s goes %s into a clamp %s", at, size, place)
	case IntoDowel:
		return units.Say("%s cuts %s into a register dowel %s", at, size, place)
	case RapidCut:
		return units.Say("%s is a rapid that goes through %s of wood %s", at, size, place)
	case RapidSlant:
		return units.Say("%s is a rapid aside and up or down at once %s, which not every machine goes in a straight line", at, place)
	case StillCut:
		return units.Say("%s cuts while the spindle stands still %s", at, place)
	case IntoPart:
		return units.Say("%s cuts %s into part %d %s, where %s are allowed", at, size, f.Part, place, bound)
	case IntoTab:
		return units.Say("%s cuts %s into a tab %s", at, size, place)
	case IntoFrame:
		return units.Say("%s cuts %s into the frame of the panel %s", at, size, place)
	case NutRubs:
		return units.Say("%s brings the shank or the collet nut %s into wood %s", at, size, place)
	case TooFast:
		return units.Say("%s feeds %s, where %s are set for the cutter", at, units.MmMin(f.Size), units.MmMin(f.Bound))
	case TooSteep:
		return units.Say("%s goes down at %s, where %s are set for the cutter", at, units.MmMin(f.Size), units.MmMin(f.Bound))
	case TooDeep:
		return units.Say("%s takes %s at once %s, where %s are set", at, size, place, bound)
	case Beyond:
		return units.Say("%s needs %s of travel in %s, and the machine has %s", at, size, f.Text, bound)
	case WrongSpeed:
		return units.Say("%s turns the spindle at %.0f a minute, where %.0f are set", at, f.Size, f.Bound)
	case Loose:
		return units.Say("%s: %s of part %d hang on nothing %s when all is carved", at, units.Mm2(f.Size), f.Part, place)
	case NoHole:
		return units.Say("%s: the hole for the register dowel %s is missing or not through", at, place)
	case LeftRough, LeftFine:
		return units.Say("%s leaves %s on part %d %s, where %s would be right", at, size, f.Part, place, bound)
	}
	return units.Say("%s fails", at)
}
