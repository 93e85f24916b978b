package wayout

import (
	"fmt"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// outOf are the kinds of finding that ways out are looked for, by the kind that a way out bears.
var outOf = map[finding.Kind][]finding.Kind{
	finding.FallsOver:  {finding.FallsOver, finding.NoFoot, finding.TipsEasily},
	finding.Undercut:   {finding.Undercut},
	finding.NoFit:      {finding.NoFit},
	finding.BeyondEdge: {finding.BeyondEdge, finding.BeyondReach, finding.ShankRubs},
	finding.ThinWood:   {finding.ThinWood, finding.SmallPart, finding.LoosePart, finding.Neck},
	finding.ThinRing:   {finding.ThinRing, finding.ThinRim},
	finding.StaysSolid: {finding.StaysSolid, finding.ShutHollow, finding.InnerUndercut},
	finding.Crossed:    {finding.Crossed, finding.TooHigh},
}

// kind is the kind of finding that a way out is out of.
func (o *Way) kind() finding.Kind {
	if o.Whole {
		return finding.Crossed
	}
	return o.Kind
}

// HasWays reports whether ways out are looked for for a kind of finding.
func HasWays(k finding.Kind) bool {
	for _, kinds := range outOf {
		if slices.Contains(kinds, k) {
			return true
		}
	}
	return false
}

// nearFreed is how far from where an undercut was named its place may lie, mm.
const nearFreed = 1.0

// FreesAt reports whether a way out makes the undercut at a place go away.
func (o *Way) FreesAt(at finding.Place) bool {
	return slices.ContainsFunc(o.Freed[:o.Frees], func(p geom.Vec) bool { return p.Sub(at.At).Len() <= nearFreed+at.Reach })
}

// For are those of some ways out that help against a finding at a place, nil for none: first those that make the very place
// go away, then those that help elsewhere too; what is made by hand comes after what a click takes, and last what makes the piece
// fall over. A joint within another layer is left out.
func For(all []Way, k finding.Kind, at *finding.Place) []Way {
	rank := func(o *Way) int {
		n := 4
		if at != nil && o.FreesAt(*at) {
			n = 0
		}
		if o.ByHand() {
			n++
		}
		if o.Tippy {
			n += 2
		}
		if o.Falls {
			n += 8
		}
		return n
	}
	var out []Way
	for i := range all {
		o := &all[i]
		if !slices.Contains(outOf[o.kind()], k) || o.ByHand() && (at == nil || !at.In(o.Parting.Layer)) {
			continue
		}
		out = append(out, *o)
	}
	slices.SortStableFunc(out, func(a, b Way) int { return rank(&a) - rank(&b) })
	return out
}

// leastWorse is how much more out of reach is told, mm³: as much as a place that is found at all.
const leastWorse = 50.0

// Worse says what a way out makes worse, "" for nothing that is known.
func (o *Way) Worse(u unit.System) string {
	switch {
	case o.Falls:
		return "With this the piece falls over."
	case o.Tippy:
		return fmt.Sprintf("With this the piece falls over when it is tilted by %.0f degrees.", o.TipDeg)
	case o.Trapped > o.TrappedBefore+leastWorse:
		return fmt.Sprintf("With this %s more stay out of reach.", unit.Volume(o.Trapped-o.TrappedBefore, u))
	case o.ByHand():
		return "Made by hand, so it is not worked out what else it changes: look at the tabs and pins of both boards."
	}
	return ""
}

// places are where undercuts are.
func places(all []undercut) (out [mostNamed]geom.Vec) {
	for i, u := range all {
		out[i] = u.worst.At
	}
	return out
}
