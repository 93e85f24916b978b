package finding_test

import (
	"slices"
	"testing"

	"grainstack/slicing/finding"
	"grainstack/slicing/unit"
)

// TestWorse: of two lists what is new, what is at more places and what is clearly larger is worse, the worst first; what is less,
// as much, hardly more or seen by nobody is not.
func TestWorse(t *testing.T) {
	at := func(sizes ...float64) (all []finding.Place) {
		for i, s := range sizes {
			all = append(all, finding.Place{Layer: i + 1, Size: s})
		}
		return all
	}
	before := []finding.Finding{
		finding.Of(finding.SmallPart, at(9)...), finding.Of(finding.Undercut, at(1000, 500)...), finding.Of(finding.NoFit, at(1, 1, 1, 1, 1, 1)...),
		finding.Of(finding.ThinWood, at(1, 2)...), finding.Of(finding.Doubled).With(3),
	}
	after := []finding.Finding{
		finding.Of(finding.NoFit, at(1, 1, 1, 1, 1, 1, 1)...), finding.Of(finding.Undercut, at(3200)...), finding.Of(finding.SmallPart, at(9, 8)...),
		finding.Of(finding.FallsOver, at(0)...).With(25.4), finding.Of(finding.ThinWood, at(1)...), finding.Of(finding.Doubled).With(4),
		finding.Of(finding.ShutHollow, at(4000)...),
	}
	var kinds []finding.Kind
	var texts []string
	for _, c := range finding.Worse(before, after) {
		kinds, texts = append(kinds, c.Kind), append(texts, finding.Words{Units: unit.Inch}.Worsened(c))
	}
	if want := []finding.Kind{finding.FallsOver, finding.SmallPart, finding.Undercut}; !slices.Equal(kinds, want) {
		t.Fatalf("worse are %v: %q", kinds, texts)
	}
	want := []string{"The piece falls over: its centre of mass lies 1 in outside of what it stands on.", "Small part: 2 places instead of 1.", "Trapped: 0.2 in³ in all instead of 0.092 in³."}
	if !slices.Equal(texts, want) {
		t.Errorf("told as %q", texts)
	}
	if got := finding.Worse(after, after); len(got) != 0 {
		t.Errorf("the same is worse: %v", got)
	}
}
