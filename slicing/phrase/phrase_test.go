package phrase

import (
	"encoding/json"
	"strings"
	"testing"
)

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

// TestJSON: faults of a file are told in a maker's words, none of the language's.
func TestJSON(t *testing.T) {
	type inner struct {
		Wall  float64
		Board string
		Caps  []int
		Turn  [3]float64
		Same  bool
	}
	type outer struct {
		Settings inner
		Count    int
	}
	for _, tt := range [][2]string{
		{``, "stops too early"}, {`{"Count": `, "stops too early"}, {"{\n\"Count\" 3}", "line 2"}, {`[]`, "an array stands where an entry in braces ought to"},
		{`{"Count": 1.5}`, `"Count" holds a number 1.5 and wants a whole number`}, {`{"Settings": {"Wall": {}}}`, `"Settings.Wall" holds an object and wants a number`},
		{`{"Settings": {"Board": []}}`, "wants words in quotes"}, {`{"Settings": {"Caps": "x"}}`, "holds a string and wants a list in brackets"},
		{`{"Settings": {"Turn": 1}}`, "a list in brackets"}, {`{"Settings": {"Same": 1}}`, "true or false"}, {`{"Settings": 1}`, "an entry in braces"}, {`{"Hollow": 1}`, `nothing is called "Hollow"`},
	} {
		d := json.NewDecoder(strings.NewReader(tt[0]))
		d.DisallowUnknownFields()
		err := JSON([]byte(tt[0]), d.Decode(new(outer)))
		if err == nil || !strings.Contains(err.Error(), tt[1]) || strings.Contains(err.Error(), "json:") {
			t.Errorf("%s: %v, wants %q", tt[0], err, tt[1])
		}
	}
}
