package stack

import "grainstack/slicing/stock"

// A Grain says how the two veneers meet that are glued at a joint.
type Grain int

const (
	NoGrain    Grain = iota // one of the two has no grain, or its layer has no veneers
	Alternates              // the grain crosses at the joint, as it does inside the board
	Doubles                 // the grain runs on: the two veneers show as one thick stripe
)

func (g Grain) String() string {
	switch g {
	case Alternates:
		return "alternates"
	case Doubles:
		return "doubles"
	}
	return "no grain"
}

// JointGrain compares the uppermost veneer left on the layer below with the lowest left on the layer above; a turned layer
// has its board's length along Y instead of X.
func JointGrain(below, above []stock.Veneer, belowTurned, aboveTurned bool) Grain {
	if len(below) == 0 || len(above) == 0 {
		return NoGrain
	}
	under, over := lies(below[len(below)-1], belowTurned), lies(above[0], aboveTurned)
	switch {
	case under == stock.Plain || over == stock.Plain:
		return NoGrain
	case under == over:
		return Doubles
	}
	return Alternates
}

// lies is the grain of a veneer in the frame of the stand: Along is X, Across is Y.
func lies(v stock.Veneer, turned bool) stock.Grain {
	if turned {
		return v.Grain.Turned()
	}
	return v.Grain
}
