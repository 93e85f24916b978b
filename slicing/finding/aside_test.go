package finding_test

import (
	"testing"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
)

// TestAsideHoldsOnAnotherStand: a place that is set aside is known again on a piece that is turned, scaled and moved, and nothing
// else is taken for it; of a finding with all its places aside nothing is left.
func TestAsideHoldsOnAnotherStand(t *testing.T) {
	first := geom.Placement{Turn: geom.NoTurn(), Scale: 2}
	other := geom.Placement{Turn: geom.TurnXYZ(30, 40, 50), Scale: 3, Shift: geom.Vec{X: 7, Z: 11}}
	on := func(to geom.Placement, own geom.Vec, size float64) finding.Place {
		return finding.Place{Layer: 4, At: to.Apply(own), Placed: true, Size: size, Reach: 2}
	}
	a, b := geom.Vec{X: 10, Y: 20, Z: 30}, geom.Vec{X: 40, Y: 20, Z: 30}
	asides := finding.Set(nil, "by hand", finding.KeyOf(finding.Undercut, on(first, a, 300), first))
	now := []finding.Finding{finding.Of(finding.Undercut, on(other, a, 900), on(other, b, 800)), finding.Of(finding.ThinWood, on(other, a, 1)), finding.Of(finding.Doubled)}
	open, aside := finding.Open(now, asides, other)
	if len(open) != 3 || len(open[0].Places) != 1 || open[0].Places[0].Size != 800 || len(aside) != 1 || aside[0].Note != "by hand" || aside[0].Places[0].Size != 900 {
		t.Errorf("open %+v, aside %+v", open, aside)
	}
	asides = finding.Set(asides, "", finding.KeyOf(finding.Undercut, on(other, b, 800), other), finding.KeyOf(finding.Doubled, finding.Place{}, other))
	if open, aside = finding.Open(now, asides, other); len(open) != 1 || open[0].Kind != finding.ThinWood || len(aside) != 3 {
		t.Errorf("then open %+v, aside %+v", open, aside)
	}
	if left := finding.Take(asides, asides[0].Key); len(left) != len(asides)-1 {
		t.Errorf("%d of %d are left", len(left), len(asides))
	}
	if len(now[0].Places) != 2 {
		t.Error("the findings themselves have changed")
	}
	if g, p, ok := asides[0].Key.Find(now, other); !ok || g != 0 || p != 0 {
		t.Errorf("it is found at %d, %d, %v", g, p, ok)
	}
}
