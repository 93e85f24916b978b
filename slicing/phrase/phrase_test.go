package phrase

import "testing"

func TestPhrases(t *testing.T) {
	for _, tt := range []struct{ in, capital, inside string }{
		{"", "", ""}, {"ball nose", "Ball nose", "ball nose"}, {"Ball nose", "Ball nose", "ball nose"},
		{"MDF 18 mm", "MDF 18 mm", "MDF 18 mm"}, {"öl", "Öl", "öl"}, {"6 mm", "6 mm", "6 mm"},
	} {
		if got := Capital(tt.in); got != tt.capital {
			t.Errorf("Capital(%q) = %q", tt.in, got)
		}
		if got := Inside(tt.in); got != tt.inside {
			t.Errorf("Inside(%q) = %q", tt.in, got)
		}
	}
	if Plural(1, "board", "boards") != "board" || Plural(0, "board", "boards") != "boards" || Plural(2, "board", "boards") != "boards" {
		t.Error("one or more")
	}
}
