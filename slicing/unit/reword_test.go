package unit_test

import (
	"testing"

	"grainstack/slicing/unit"
)

// TestSentencesInInches: 1 in is 25.4 mm and 1 lb 453.59237 g (international yard and pound agreement, 1959); 404 mm are 15.906 in,
// 919 mm 36.181 in, 4.0 cm² 0.62 in², 184 cm³ 11.2 in³, 2.5 kg 5.51 lb.
func TestSentencesInInches(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"Layer 10 is 404 × 919 mm as its grain lies.", "Layer 10 is 15.91 × 36.18 in as its grain lies."},
		{"They meet on 3.1 cm² only, less than the 4.0 cm² wanted.", "They meet on 0.48 in² only, less than the 0.62 in² wanted."},
		{"184 cm³ and 2.5 kg, 25.4 mm.", "11 in³ and 5.51 lb, 1 in."},
		{"at 2500 mm/min, 110 g/m², 9 min", "at 2500 mm/min, 110 g/m², 9 min"},
		{"On layer 3 the Ball nose 6.35 mm (1/4 in) leaves 15.8 mm", "On layer 3 the Ball nose 6.35 mm (1/4 in) leaves 0.622 in"},
	} {
		if got := unit.Reword(tt.text, unit.Inch, "Ball nose 6.35 mm (1/4 in)"); got != tt.want {
			t.Errorf("%q becomes %q, want %q", tt.text, got, tt.want)
		}
		if got := unit.Reword(tt.text, unit.Metric); got != tt.text {
			t.Errorf("%q becomes %q in mm", tt.text, got)
		}
	}
}
