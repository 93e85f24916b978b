package stack

import (
	"fmt"
	"math"

	"grainstack/slicing/stock"
)

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

// Laminae are the veneers of a whole stack of like panels: a look-up from height to layer and veneer.
type Laminae struct {
	Veneers    []stock.Veneer // left on each panel after the skim, bottom to top
	Bounds     []float64      // heights of the veneers' faces above the panel's lower face: one more than there are veneers
	FirstJoint float64
	Alternate  bool // every second layer is turned by 90°, beginning with the second
}

// NewLaminae stacks the veneers left on each panel, bottom to top, with the first joint firstJoint above the floor. It is an
// error when there are none, when one is not thicker than nothing, or when the first joint is not above the floor.
func NewLaminae(left []stock.Veneer, firstJoint float64, alternate bool) (Laminae, error) {
	if len(left) == 0 {
		return Laminae{}, fmt.Errorf("stack: no veneers are left on the panel")
	}
	if !(firstJoint > 0) || math.IsInf(firstJoint, 0) {
		return Laminae{}, fmt.Errorf("stack: the first joint at %g mm is not above the floor", firstJoint)
	}
	l := Laminae{Veneers: append([]stock.Veneer(nil), left...), FirstJoint: firstJoint, Alternate: alternate}
	l.Bounds = make([]float64, 1, len(left)+1)
	sum := 0.0
	for i, v := range left {
		if !(v.Thickness > 0) || math.IsInf(v.Thickness, 0) {
			return Laminae{}, fmt.Errorf("stack: veneer %d is %g mm thick", i+1, v.Thickness)
		}
		sum += v.Thickness
		l.Bounds = append(l.Bounds, sum)
	}
	return l, nil
}

// Thickness is that of one layer.
func (l Laminae) Thickness() float64 { return l.Bounds[len(l.Bounds)-1] }

// At is the layer (numbered from 1 as in Layers) and the veneer (an index into Veneers) at a height. A face between two
// belongs to the upper one. The stack is thought to go on above and below: layer 0 lies under layer 1.
func (l Laminae) At(z float64) (layer, veneer int) {
	t := l.Thickness()
	k := math.Floor((z - l.FirstJoint) / t)
	h := z - l.FirstJoint - k*t
	for veneer < len(l.Veneers)-1 && h >= l.Bounds[veneer+1] {
		veneer++
	}
	return int(k) + 2, veneer
}

// Turned reports whether a layer is turned by 90°.
func (l Laminae) Turned(layer int) bool { return l.Alternate && layer%2 == 0 }

// Grain is the way a veneer of a layer lies in the stand: Along is X, Across is Y.
func (l Laminae) Grain(layer, veneer int) stock.Grain {
	return lies(l.Veneers[veneer], l.Turned(layer))
}

// Joint says how the grain meets at the joints of the stack.
func (l Laminae) Joint() Grain { return JointGrain(l.Veneers, l.Veneers, false, l.Alternate) }
