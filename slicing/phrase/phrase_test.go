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

// TestName: nothing of a name can act on a terminal, and what needs no escape has none.
func TestName(t *testing.T) {
	for _, tt := range [][2]string{
		{"Büste (2).stl", "Büste (2).stl"}, {"猫\u202f1.obj", "猫\u202f1.obj"}, {"a\nb\x1b[31m", `a\nb\x1b[31m`}, {"\u202egpj.exe", `\u202egpj.exe`},
		{"a\xffb", `a\xffb`}, {"\u2028\u0085", `\u2028\u0085`}, {`back\slash "quoted"`, `back\slash "quoted"`}, {"", ""},
	} {
		if got := Name(tt[0]); got != tt[1] || Name(got) != got {
			t.Errorf("Name(%q) = %q, wants %q", tt[0], got, tt[1])
		}
	}
}
