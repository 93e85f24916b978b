package proof

import (
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
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

// String is a sentence for the maker: which program, what, where, by how much.
func (f Fault) String() string {
	at := f.File
	if f.Line > 0 {
		at += fmt.Sprintf(", line %d", f.Line)
	}
	place := fmt.Sprintf("at X %.1f Y %.1f on side %v", f.At.X, f.At.Y, f.Side)
	switch f.What {
	case Unread:
		return at + ": " + f.Text
	case IntoBed:
		return fmt.Sprintf("%s goes %.2f mm below the board %s, where %.2f mm are allowed", at, f.Size, place, f.Bound)
	case IntoClamp:
		if f.Text == nutName {
			return fmt.Sprintf("%s brings the collet nut %.1f mm into a clamp %s: it wants lower clamps there, or a cutter that reaches further", at, f.Size, place)
		}
		return fmt.Sprintf("%s goes %.1f mm into a clamp %s", at, f.Size, place)
	case IntoDowel:
		return fmt.Sprintf("%s cuts %.2f mm into a register dowel %s", at, f.Size, place)
	case RapidCut:
		return fmt.Sprintf("%s is a rapid that goes through %.2f mm of wood %s", at, f.Size, place)
	case RapidSlant:
		return fmt.Sprintf("%s is a rapid aside and up or down at once %s, which not every machine goes in a straight line", at, place)
	case StillCut:
		return fmt.Sprintf("%s cuts while the spindle stands still %s", at, place)
	case IntoPart:
		return fmt.Sprintf("%s cuts %.2f mm into part %d %s, where %.2f mm are allowed", at, f.Size, f.Part, place, f.Bound)
	case IntoTab:
		return fmt.Sprintf("%s cuts %.2f mm into a tab %s", at, f.Size, place)
	case IntoFrame:
		return fmt.Sprintf("%s cuts %.2f mm into the frame of the panel %s", at, f.Size, place)
	case NutRubs:
		return fmt.Sprintf("%s brings the shank or the collet nut %.1f mm into wood %s", at, f.Size, place)
	case TooFast:
		return fmt.Sprintf("%s feeds %.0f mm/min, where %.0f are set for the cutter", at, f.Size, f.Bound)
	case TooSteep:
		return fmt.Sprintf("%s goes down at %.0f mm/min, where %.0f are set for the cutter", at, f.Size, f.Bound)
	case TooDeep:
		return fmt.Sprintf("%s takes %.2f mm at once %s, where %.2f are set", at, f.Size, place, f.Bound)
	case Beyond:
		return fmt.Sprintf("%s needs %.0f mm of travel in %s, and the machine has %.0f", at, f.Size, f.Text, f.Bound)
	case WrongSpeed:
		return fmt.Sprintf("%s turns the spindle at %.0f a minute, where %.0f are set", at, f.Size, f.Bound)
	case Loose:
		return fmt.Sprintf("%s: %.0f mm² of part %d hang on nothing %s when all is carved", at, f.Size, f.Part, place)
	case NoHole:
		return fmt.Sprintf("%s: the hole for the register dowel %s is missing or not through", at, place)
	case LeftRough, LeftFine:
		return fmt.Sprintf("%s leaves %.2f mm on part %d %s, where %.2f would be right", at, f.Size, f.Part, place, f.Bound)
	case NoStep:
		return at + ": " + f.Text
	}
	return at + " fails"
}
