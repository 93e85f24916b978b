package unit_test

import (
	"math"
	"strings"
	"testing"

	"grainstack/slicing/unit"
)

// 1 in = 25.4 mm (international yard and pound agreement, 1959).
func TestParseLength(t *testing.T) {
	for _, tt := range []struct {
		text string
		def  unit.Unit
		mm   float64
	}{
		{"18", unit.MM, 18},
		{"18", unit.In, 457.2},
		{" 17.7 mm ", unit.In, 17.7},
		{"17,7", unit.MM, 17.7},
		{"17,75mm", unit.MM, 17.75},
		{"0,125 in", unit.MM, 3.175},
		{",5", unit.MM, 0.5},
		{".5 in", unit.MM, 12.7},
		{"1.8 cm", unit.MM, 18},
		{"1,22 m", unit.MM, 1220},
		{"1220 Millimetres", unit.MM, 1220},
		{"11/16 in", unit.MM, 17.4625},
		{"11/16", unit.In, 17.4625},
		{"11 / 16 IN", unit.MM, 17.4625},
		{`3 1/2"`, unit.MM, 88.9},
		{"3-1/2 in", unit.MM, 88.9},
		{"3½ in", unit.MM, 88.9},
		{"¾ in", unit.MM, 19.05},
		{"23/32 in", unit.MM, 18.25625},
		{"4 ft", unit.MM, 1219.2},
		{`2' 3 1/2"`, unit.MM, 698.5},
		{`2'3"`, unit.MM, 685.8},
		{"2 ft 3 in", unit.MM, 685.8},
		{"3″", unit.MM, 76.2},
		{"-0.5 mm", unit.MM, -0.5},
		{"−3 1/2 in", unit.MM, -88.9},
		{"+2", unit.MM, 2},
		{"0", unit.MM, 0},
	} {
		got, err := unit.ParseLength(tt.text, tt.def)
		if err != nil || math.Abs(got-tt.mm) > 1e-9 {
			t.Errorf("%q: got %v mm, %v, want %v", tt.text, got, err, tt.mm)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"", "nothing is written"},
		{"   ", "nothing is written"},
		{"thick", "write a number first"},
		{"mm", "write a number first"},
		{"18 furlongs", "not a unit of length"},
		{"18 kg", "not a unit of length"},
		{"1/0 in", "nought under the line"},
		{"1/ in", "nothing under the line"},
		{"1.5/2 in", "whole numbers"},
		{"1.5 1/2 in", "whole numbers"},
		{"3 5/4 in", "1 or more"},
		{"1,220", "may be 1.220 or 1220"},
		{"1,2,3", "more than one point or comma"},
		{"1.2.3", "is not a number"},
		{".", "is not a number"},
		{"18 19", "write a number and a unit"},
		{"18 mm 19", "no unit"},
		{"3 in 2 ft", "only feet and inches"},
		{"2 ft 3 mm", "only feet and inches"},
		{"18 mm 2 mm", "only feet and inches"},
		{"-", "after the sign"},
		{"--3", "write a number first"},
		{"NaN", "write a number first"},
		{"Inf mm", "write a number first"},
		{"1e9", "not a unit"},
		{"99999999999 mm", "longer than 10 km"},
		{strings.Repeat("9", 400), "too long"},
	} {
		got, err := unit.ParseLength(tt.text, unit.MM)
		if err == nil {
			t.Errorf("%q was taken as %g mm", tt.text, got)
		} else if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %q, want it to say %q", tt.text, err, tt.want)
		}
	}
}

func TestParseAngle(t *testing.T) {
	for _, tt := range []struct {
		text    string
		degrees float64
	}{{"90", 90}, {"-12,5°", -12.5}, {"45 deg", 45}, {"22 1/2 degrees", 22.5}, {"+7.25", 7.25}} {
		if got, err := unit.ParseAngle(tt.text); err != nil || math.Abs(got-tt.degrees) > 1e-12 {
			t.Errorf("%q: got %v, %v, want %v", tt.text, got, err, tt.degrees)
		}
	}
	for _, text := range []string{"", "right", "90 mm", "1,220", "99999999", "-"} {
		if got, err := unit.ParseAngle(text); err == nil {
			t.Errorf("%q was taken as %g degrees", text, got)
		}
	}
}

// Whatever is typed, it is refused with words or gives a finite length; and what is printed can be read again.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"18", "17,7 mm", "11/16 in", `2' 3 1/2"`, "3-1/2 in", "½ in", "1,220", "1/0", "-.", "9 9/9", "1e9", "\x80"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, system := range []unit.System{unit.Metric, unit.Inch} {
			mm, err := unit.ParseLength(s, system.Unit())
			if err != nil {
				if mm != 0 || err.Error() == "" {
					t.Fatalf("%q: %g mm beside the error %q", s, mm, err)
				}
				continue
			}
			if math.IsNaN(mm) || math.Abs(mm) > 1e7 {
				t.Fatalf("%q gives %g mm", s, mm)
			}
			again, err := unit.ParseLength(unit.Length(mm, system), unit.MM)
			if err != nil || math.Abs(again-mm) > 0.13 { // half of the last digit printed: 0.05 mm, 0.005 in
				t.Fatalf("%q: %g mm is printed as %q, which reads as %g, %v", s, mm, unit.Length(mm, system), again, err)
			}
		}
		if _, err := unit.ParseAngle(s); err != nil && err.Error() == "" {
			t.Fatalf("%q: an error without words", s)
		}
	})
}
