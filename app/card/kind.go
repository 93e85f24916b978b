package card

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"grainstack/slicing/unit"
)

// A Kind says how a value is read, written and what stands behind it.
type Kind int

// The kinds of value.
const (
	Length Kind = iota // mm inside
	Angle              // degrees
	Count
	Factor
	Percent
	Speed // mm per minute inside
	Turns // per minute
	Money // in the maker's own
	Force // N
	Minutes
	Spread // g/m²
)

// word is the unit that stands behind the typed value.
func (k Kind) word(s unit.System) string {
	switch {
	case k == Angle:
		return "°"
	case k == Length && s == unit.Inch:
		return "in"
	case k == Length:
		return "mm"
	case k == Speed && s == unit.Inch:
		return "in/min"
	case k == Speed:
		return "mm/min"
	case k == Turns:
		return "rpm"
	case k == Minutes:
		return "min"
	case k == Force:
		return "N"
	case k == Spread:
		return "g/m²"
	case k == Factor:
		return "×"
	case k == Percent:
		return "%"
	}
	return ""
}

// read is the value of a text; errors are for the maker.
func (k Kind) read(text string, s unit.System) (float64, error) {
	switch k {
	case Length:
		return unit.ParseLength(text, s.Unit())
	case Angle:
		return unit.ParseAngle(text)
	case Speed:
		mm, err := unit.ParseLength(strings.TrimSuffix(strings.TrimSpace(text), "/min"), s.Unit())
		return mm, err
	}
	if k == Percent {
		text = strings.TrimSuffix(strings.TrimSpace(text), "%")
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	switch {
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return 0, fmt.Errorf("%q is not a number", text)
	case k == Count && v != math.Trunc(v):
		return 0, fmt.Errorf("write a whole number")
	}
	return v, nil
}

// write is the text of a value, without the unit.
func (k Kind) write(v float64, s unit.System) string {
	if s == unit.Inch && (k == Length || k == Speed) {
		v /= 25.4
		if k == Speed {
			return trim(v, 1)
		}
		return trim(v, 3)
	}
	switch k {
	case Count, Turns, Speed, Force, Spread, Minutes:
		return trim(v, 0)
	case Factor:
		return strconv.FormatFloat(v, 'g', 5, 64)
	case Angle:
		return trim(v, 1)
	}
	return trim(v, 2)
}

// trim prints with at most so many places and without needless noughts.
func trim(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.ContainsRune(text, '.') {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
