package workshop_test

import (
	"testing"

	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// TestToldOnce: what figures guess of a part that is too large gives way to what the layout says, a rim is told with the ring that
// is wanted wider, and without a ring by itself.
func TestToldOnce(t *testing.T) {
	ring := finding.Of(finding.ThinRing, finding.Place{Layer: 3, Size: 4}).With(15)
	rim := finding.Of(finding.ThinRim, finding.Place{Layer: 3, Size: 4}).With(6)
	guess, large := finding.Of(finding.TooLargeGuess, finding.Place{Layer: 2}), finding.Of(finding.TooLarge, finding.Place{Layer: 2, Size: 700})
	for _, tt := range []struct {
		figures, shop []finding.Finding
		withheld      unit.Said
		want          []finding.Kind
	}{
		{[]finding.Finding{guess, ring}, []finding.Finding{rim, large}, unit.Said{}, []finding.Kind{finding.ThinRing, finding.TooLarge}},
		{nil, []finding.Finding{rim}, unit.Said{}, []finding.Kind{finding.ThinRim}},
		{[]finding.Finding{guess}, nil, unit.Say("why"), []finding.Kind{finding.TooLargeGuess}},
	} {
		got := workshop.NeedsALook(&job.Figures{Cautions: tt.figures}, &workshop.Workshop{Cautions: tt.shop, Withheld: tt.withheld})
		if len(got) != len(tt.want) {
			t.Errorf("%v", finding.Words{}.Texts(got))
			continue
		}
		for i, k := range tt.want {
			if got[i].Kind != k {
				t.Errorf("%v stands where %v should", got[i].Kind, k)
			}
		}
	}
}
