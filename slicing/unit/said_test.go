package unit_test

import (
	"errors"
	"fmt"
	"testing"

	"grainstack/slicing/unit"
)

// TestSentencesInInches: 1 in is 25.4 mm and 1 lb 453.59237 g (international yard and pound agreement, 1959); 404 mm are 15.906 in,
// 919 mm 36.181 in, 3.1 cm² 0.4805 in², 4 cm² 0.62 in², 184 cm³ 11.2 in³, 2.5 kg 5.51 lb. What carries no length, area, volume or
// mass keeps its unit, as do names.
func TestSentencesInInches(t *testing.T) {
	for _, tt := range []struct {
		said         unit.Said
		metric, inch string
	}{
		{unit.Say("Layer %d is %s as its grain lies.", 10, unit.Sides{X: 404, Y: 919}), "Layer 10 is 404 × 919 mm as its grain lies.", "Layer 10 is 15.91 × 36.18 in as its grain lies."},
		{unit.Say("They meet on %s of %s.", unit.Mm2(310), unit.Mm2(400)), "They meet on 3.1 cm² of 4 cm².", "They meet on 0.48 in² of 0.62 in²."},
		{unit.Say("%s and %s, %s", unit.Mm3(184000), unit.Grams(2500), unit.Mm(25.4)), "184 cm³ and 2.5 kg, 25.4 mm", "11 in³ and 5.51 lb, 1 in"},
		{unit.Say("%.0f N/mm², %.1f kN, %d g/m²", 8.0, 1.5, 110), "8 N/mm², 1.5 kN, 110 g/m²", "8 N/mm², 1.5 kN, 110 g/m²"},
		{unit.Say("The %s leaves %s.", "Ball nose 6.35 mm (1/4 in)", unit.Mm(15.8)), "The Ball nose 6.35 mm (1/4 in) leaves 15.8 mm.", "The Ball nose 6.35 mm (1/4 in) leaves 0.622 in."},
		{unit.Say("%s; %s", unit.Say("it goes %s", unit.Mm(5)), unit.Span{From: 1, To: 2.54}), "it goes 5 mm; 1 to 2.54 mm", "it goes 0.197 in; 0.039 to 0.1 in"},
	} {
		if got := tt.said.In(unit.Inch); got != tt.inch {
			t.Errorf("%q, want %q", got, tt.inch)
		}
		if got := tt.said.String(); got != tt.metric {
			t.Errorf("%q, want %q", got, tt.metric)
		}
	}
	fault := unit.Errorf("it is %s long", unit.Mm(25.4))
	if got := unit.Told(fault).In(unit.Inch); got != "it is 1 in long" || fault.Error() != "it is 25.4 mm long" {
		t.Errorf("%q, %v", got, fault)
	}
	for _, err := range []error{errors.New("it is 5 % long"), fmt.Errorf("here: %w", fault)} {
		if got := unit.Told(err).In(unit.Inch); got != err.Error() {
			t.Errorf("%q, want %q", got, err)
		}
	}
	if !(unit.Said{}).None() || unit.Say("x").None() {
		t.Error("nothing is something")
	}
}
