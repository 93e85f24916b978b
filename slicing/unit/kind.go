package unit

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Kind says how a figure is read and written, and what stands behind it.
type Kind uint8

// The kinds of figure.
const (
	Lengths Kind = iota // mm inside
	Angles              // degrees
	Counts
	Factors
	Percents
	Speeds // mm per minute inside
	Turns  // per minute
	Prices // in the maker's own money
	Forces // N
	Minutes
	Spreads // g/m²
	Areas   // mm²
	Volumes // mm³
)

// words are the units that stand behind metric figures.
var words = [Volumes + 1]string{Lengths: "mm", Angles: "°", Factors: "×", Percents: "%", Speeds: "mm/min", Turns: "rpm", Forces: "N", Minutes: "min", Spreads: "g/m²", Areas: "mm²", Volumes: "mm³"}

// Word is the unit that stands behind a figure, "" for none.
func (k Kind) Word(s System) string {
	if s == Inch && (k == Lengths || k == Speeds) {
		return strings.Replace(words[k], "mm", "in", 1)
	}
	return words[k]
}

// Read is the figure of a text; errors are for the maker.
func (k Kind) Read(text string, s System) (float64, error) {
	switch k {
	case Lengths:
		return ParseLength(text, s.Unit())
	case Angles:
		return ParseAngle(text)
	case Speeds:
		return ParseLength(strings.TrimSuffix(strings.TrimSpace(text), "/min"), s.Unit())
	}
	bare := strings.TrimSpace(text)
	if k == Percents {
		bare = strings.TrimSuffix(bare, "%")
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(bare), ",", ".", 1), 64)
	switch {
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return 0, fmt.Errorf("%q is not a number", text)
	case k == Counts && v != math.Trunc(v):
		return 0, errors.New("write a whole number")
	}
	return v, nil
}

// Write is the text of a figure, without the unit.
func (k Kind) Write(v float64, s System) string {
	switch k {
	case Lengths:
		if s == Inch {
			return Number(v/mmPerInch, 3)
		}
	case Speeds:
		if s == Inch {
			return Number(v/mmPerInch, 1)
		}
		return Number(v, 0)
	case Counts, Turns, Forces, Spreads, Minutes:
		return Number(v, 0)
	case Factors:
		return signed(strconv.FormatFloat(v, 'g', 5, 64))
	case Angles:
		return Number(v, 1)
	}
	return Number(v, 2)
}

// Text is a figure with its unit, as it stands in a sentence.
func (k Kind) Text(v float64, s System) string {
	switch k {
	case Lengths:
		return Length(v, s)
	case Speeds:
		return Feed(v, s)
	case Angles:
		return Angle(v)
	case Factors:
		return signed(fmt.Sprintf("%.6g", v))
	}
	return strings.TrimSpace(signed(fmt.Sprintf("%.6g %s", v, words[k])))
}
