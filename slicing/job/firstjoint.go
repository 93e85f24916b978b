package job

import (
	"math"

	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// A JointChoice is a height of the first joint and what it comes to. Without layers it is none.
type JointChoice struct {
	At            float64 // mm above the floor
	Crossings     int     // joints through places that shall stay whole
	Thin          int     // first and last layers that are too low to be held and glued well
	SmallestJoint float64 // mm² glued, hollows that follow the outside taken off; 0 without joints
	Layers        int
}

const (
	// RuleStep is how fine heights of the first joint are tried, mm: what the rule on the bench gives.
	RuleStep = 0.1
	// leastFirst is the lowest first layer, mm: the lowest that the rule gives.
	leastFirst = 0.5
	// alike is the share by which joints have to differ in area to count as different: profiles are no truer.
	alike = 1e-4
)

// BestFirstJoint is the height of the first joint with the fewest joints through what shall stay whole; of those the one that
// makes no layer too low to be worked with, then the one whose smallest joint is the largest, then the one with the fewest
// layers, then the nearest to the present one. now is what the present one comes to. The settings' stand has to be the
// standing's; the piece has to be a solid. t is how thick the layers are, mm. It takes look-ups
// only.
func BestFirstJoint(st *Standing, s Settings, kept []Kept, t float64) (best, now JointChoice) {
	if !(t > 0) || st.Height()/t > mostLayers {
		return best, now
	}
	present := s.FirstJointIn(t)
	now = jointChoice(st, s, t, present, kept)
	best = now
	try := func(at float64) {
		if one := jointChoice(st, s, t, at, kept); one.better(best, present) {
			best = one
		}
	}
	for k := math.Round(leastFirst / RuleStep); ; k++ {
		at := math.Round(k*RuleStep*10) / 10
		if at >= t {
			break
		}
		try(at)
	}
	try(t)
	return best, now
}

// better reports whether a choice is better than another; see BestFirstJoint.
func (a JointChoice) better(b JointChoice, present float64) bool {
	switch {
	case a.Layers == 0 || b.Layers == 0:
		return a.Layers > 0
	case a.Crossings != b.Crossings:
		return a.Crossings < b.Crossings
	case a.Thin != b.Thin:
		return a.Thin < b.Thin
	case math.Abs(a.smallest()-b.smallest()) > alike*math.Max(a.SmallestJoint, b.SmallestJoint):
		return a.smallest() > b.smallest()
	case a.Layers != b.Layers:
		return a.Layers < b.Layers
	}
	return math.Abs(a.At-present) < math.Abs(b.At-present)
}

// smallest is the smallest joint; a piece without joints has none that could be small.
func (a JointChoice) smallest() float64 {
	if a.Layers == 1 {
		return math.MaxFloat64
	}
	return a.SmallestJoint
}

// jointChoice is what a first joint at a height comes to; it has no layers where it can't be.
func jointChoice(st *Standing, s Settings, thickness, at float64, kept []Kept) JointChoice {
	slabs, err := stack.Layers(st.Height(), thickness, at)
	if err != nil {
		return JointChoice{}
	}
	out := JointChoice{At: at, Layers: len(slabs), SmallestJoint: math.Inf(1)}
	capped := func(i int) bool { return i < s.CapBottom || i >= len(slabs)-s.CapTop }
	for i := 1; i < len(slabs); i++ {
		z := slabs[i].Bottom
		for _, k := range kept {
			if k.Crossed(z) {
				out.Crossings++
			}
		}
		area := st.Profile.JointArea(z)
		if s.Wall > 0 && s.Core == Carved && st.Table != nil && !(capped(i) && capped(i-1)) {
			area = math.Max(0, area-st.Table.CoreArea(z, s.Wall))
		}
		out.SmallestJoint = math.Min(out.SmallestJoint, area)
	}
	if len(slabs) == 1 {
		out.SmallestJoint = 0
		return out
	}
	for _, l := range []stack.Slab{slabs[0], slabs[len(slabs)-1]} {
		if l.Thickness() < thinLast {
			out.Thin++
		}
	}
	return out
}

// WithFirstJoint are the settings with the first joint at a height in mm.
func (s Settings) WithFirstJoint(at float64, c *stock.Catalogue) Settings {
	s.FirstJoint = at
	if at >= s.LayerThickness(c)-1e-9 {
		s.FirstJoint = 0
	}
	return s
}
