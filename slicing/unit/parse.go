package unit

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Unit is a unit of length that a maker writes.
type Unit uint8

const (
	MM Unit = iota
	CM
	M
	In
	Ft
)

// MM is the unit's length in mm.
func (u Unit) MM() float64 {
	switch u {
	case CM:
		return 10
	case M:
		return 1000
	case In:
		return mmPerInch
	case Ft:
		return mmPerFoot
	}
	return 1
}

// Unit is the unit that a bare number means in the system.
func (s System) Unit() Unit {
	if s == Inch {
		return In
	}
	return MM
}

// longest is the greatest length that is read: longer is a slip of the pen.
const longest = 1e7 // mm, 10 km

// ParseLength reads a length: "18", "1.8 cm", "17,7 mm", "11/16 in", `3 1/2"`, "4 ft", `2' 3 1/2"`; a bare number is in
// def. It gives mm. Errors are meant to be shown beside the field.
func ParseLength(s string, def Unit) (mm float64, err error) {
	rest, sign, err := begin(s, "a length")
	if err != nil {
		return 0, err
	}
	last := Unit(255)
	for first := true; rest != ""; first = false {
		var n float64
		if n, rest, err = amount(rest); err != nil {
			return 0, err
		}
		word, after := unitWord(rest)
		u, known := lengthUnits[strings.ToLower(word)]
		switch {
		case !known && word != "":
			return 0, fmt.Errorf("%q is not a unit of length: write mm, cm, m, in or ft", shown(word))
		case word == "" && after != "":
			return 0, fmt.Errorf("cannot read %q: write a number and a unit, like 18 mm or 11/16 in", shown(after))
		case word == "" && !first:
			return 0, errors.New("the last number has no unit: write mm, cm, m, in or ft after it")
		case word == "":
			u = def
		}
		if !first && (last != Ft || u != In) {
			return 0, errors.New("only feet and inches go together in one length, like 2 ft 3 in")
		}
		last, rest = u, after
		mm += n * u.MM()
	}
	if mm > longest {
		return 0, errors.New("that is longer than 10 km")
	}
	return sign * mm, nil
}

// ParseAngle reads degrees: "90", "-12,5°", "45 deg".
func ParseAngle(s string) (degrees float64, err error) {
	rest, sign, err := begin(s, "an angle")
	if err != nil {
		return 0, err
	}
	n, rest, err := amount(rest)
	if err != nil {
		return 0, err
	}
	switch strings.ToLower(rest) {
	case "", "°", "deg", "degree", "degrees":
	default:
		return 0, fmt.Errorf("cannot read %q: write the angle in degrees, like 12.5", shown(rest))
	}
	if n > 36000 {
		return 0, errors.New("that is more than a hundred turns")
	}
	return sign * n, nil
}

var lengthUnits = map[string]Unit{
	"mm": MM, "millimetre": MM, "millimetres": MM, "millimeter": MM, "millimeters": MM,
	"cm": CM, "centimetre": CM, "centimetres": CM, "centimeter": CM, "centimeters": CM,
	"m": M, "metre": M, "metres": M, "meter": M, "meters": M,
	"in": In, "inch": In, "inches": In, `"`: In, "″": In, "”": In, "''": In,
	"ft": Ft, "foot": Ft, "feet": Ft, "'": Ft, "′": Ft, "’": Ft,
}

// begin trims s, takes its sign off and refuses what is too long or empty.
func begin(s, what string) (rest string, sign float64, err error) {
	rest = strings.TrimSpace(s)
	if rest == "" {
		return "", 0, fmt.Errorf("nothing is written: write %s", what)
	}
	if len(rest) > 64 {
		return "", 0, fmt.Errorf("that is too long to be %s", what)
	}
	sign = 1
	for _, minus := range []string{"-", "−"} {
		if after, cut := strings.CutPrefix(rest, minus); cut {
			return strings.TrimSpace(after), -1, mustFollow(after)
		}
	}
	if after, cut := strings.CutPrefix(rest, "+"); cut {
		return strings.TrimSpace(after), 1, mustFollow(after)
	}
	return rest, sign, nil
}

func mustFollow(after string) error {
	if strings.TrimSpace(after) == "" {
		return errors.New("a number is missing after the sign")
	}
	return nil
}

// amount reads a number at the start of s: "18", "17.7", "17,7", "11/16", "3 1/2", "3-1/2", "½". It never is negative.
func amount(s string) (n float64, rest string, err error) {
	if n, rest, ok := glyph(s); ok {
		return n, rest, nil
	}
	text, rest := digits(s)
	if text == "" {
		return 0, "", fmt.Errorf("cannot read %q: write a number first, like 18 or 11/16", shown(s))
	}
	rest = strings.TrimLeft(rest, " \t")
	if after, cut := strings.CutPrefix(rest, "/"); cut {
		return over(text, after)
	}
	if n, err = decimal(text); err != nil {
		return 0, "", err
	}
	if f, after, ok := glyph(rest); ok {
		return n + f, after, wholeOnly(text)
	}
	part := strings.TrimLeft(strings.TrimPrefix(rest, "-"), " \t")
	if top, after := digits(part); top != "" {
		if bottom, cut := strings.CutPrefix(strings.TrimLeft(after, " \t"), "/"); cut {
			f, after, err := over(top, bottom)
			if err == nil {
				err = wholeOnly(text)
			}
			if err == nil && f >= 1 {
				err = fmt.Errorf("the fraction %s/… after %s is 1 or more", top, text)
			}
			return n + f, after, err
		}
	}
	return n, rest, nil
}

// over reads the bottom of a fraction whose top is given.
func over(top, after string) (n float64, rest string, err error) {
	bottom, rest := digits(strings.TrimLeft(after, " \t"))
	if err := wholeOnly(top); err != nil {
		return 0, "", err
	}
	if bottom == "" {
		return 0, "", fmt.Errorf("the fraction %s/ has nothing under the line", top)
	}
	if err := wholeOnly(bottom); err != nil {
		return 0, "", err
	}
	a, errA := decimal(top)
	b, errB := decimal(bottom)
	if err := errors.Join(errA, errB); err != nil {
		return 0, "", err
	}
	if b == 0 {
		return 0, "", fmt.Errorf("the fraction %s/%s has nought under the line", top, bottom)
	}
	return a / b, strings.TrimLeft(rest, " \t"), nil
}

func wholeOnly(text string) error {
	if strings.ContainsAny(text, ".,") {
		return fmt.Errorf("a fraction is written with whole numbers, like 3 1/2, not %s", text)
	}
	return nil
}

// glyph reads a fraction that is one character.
func glyph(s string) (n float64, rest string, ok bool) {
	for _, f := range []struct {
		sign string
		n    float64
	}{{"½", .5}, {"¼", .25}, {"¾", .75}, {"⅛", .125}, {"⅜", .375}, {"⅝", .625}, {"⅞", .875}} {
		if after, cut := strings.CutPrefix(s, f.sign); cut {
			return f.n, strings.TrimLeft(after, " \t"), true
		}
	}
	return 0, s, false
}

// digits splits s after its leading digits, points and commas.
func digits(s string) (text, rest string) {
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || s[end] == ',') {
		end++
	}
	return s[:end], s[end:]
}

// decimal reads digits with a decimal point or a decimal comma. "1,220" may mean either 1.22 or 1220, so it is refused.
func decimal(text string) (float64, error) {
	before, after, comma := strings.Cut(text, ",")
	if comma {
		if strings.ContainsAny(after, ".,") || strings.Contains(before, ".") {
			return 0, fmt.Errorf("%s has more than one point or comma", text)
		}
		if len(after) == 3 && len(before) <= 3 && strings.Trim(before, "0") != "" {
			return 0, fmt.Errorf("%s may be %s.%s or %s%s: write it with a point or without the comma", text, before, after, before, after)
		}
		text = before + "." + after
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("%s is not a number", text)
	}
	return n, nil
}

// unitWord splits s after its leading word: letters or inch and foot marks.
func unitWord(s string) (word, rest string) {
	end := strings.IndexFunc(s, func(r rune) bool { return r == ' ' || r == '\t' || r >= '0' && r <= '9' })
	if end < 0 {
		end = len(s)
	}
	return s[:end], strings.TrimLeft(s[end:], " \t")
}

// shown is a piece of the maker's text short enough to print.
func shown(s string) string {
	if runes := []rune(s); len(runes) > 16 {
		return string(runes[:16]) + "…"
	}
	return s
}
