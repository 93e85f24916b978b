package unit

import (
	"math"
	"strconv"
	"strings"
)

// System is the family of units that figures are printed in.
type System uint8

const (
	Metric System = iota // mm, cm³, kg
	Inch                 // inches, pounds
)

// GramsPerPound is the international pound (yard and pound agreement, 1959).
const GramsPerPound = 453.59237

// A square and a cubic centimetre, in mm² and mm³.
const (
	Cm2 = 100.0
	Cm3 = 1000.0
)

const (
	mmPerInch  = 25.4
	gPerOunce  = GramsPerPound / 16
	mmPerFoot  = 12 * mmPerInch
	mm3PerInch = mmPerInch * mmPerInch * mmPerInch
)

// Length prints mm to a tenth of a millimetre (a hundredth below 10 mm) or to a hundredth of an inch (a thousandth below
// 1 in), without trailing noughts: "17.7 mm", "0.626 in".
func Length(mm float64, s System) string {
	if s == Inch {
		in := mm / mmPerInch
		return Number(in, fine(in, 1, 3, 2)) + " in"
	}
	return Number(mm, fine(mm, 10, 2, 1)) + " mm"
}

// Between prints a stretch from one length to another to a hundredth of a millimetre or a thousandth of an inch, so that its ends
// are as far apart as what lies between them is told to be: "13.99 to 20 mm".
func Between(from, to float64, s System) string {
	decimals, one, word := 2, 1.0, " mm"
	if s == Inch {
		decimals, one, word = 3, mmPerInch, " in"
	}
	return Number(from/one, decimals) + " to " + Number(to/one, decimals) + word
}

// Mass prints g: "850 g", "7.42 kg", "12.4 kg", or "5 oz", "16.4 lb". A mass that is there is never written as none.
func Mass(g float64, s System) string {
	if s == Inch {
		if math.Abs(g) < GramsPerPound {
			return some(g/gPerOunce, 1) + " oz"
		}
		return Number(g/GramsPerPound, fine(g/GramsPerPound, 10, 2, 1)) + " lb"
	}
	if math.Abs(g) < 1000 {
		return some(g, fine(g, 10, 1, 0)) + " g"
	}
	return Number(g/1000, fine(g/1000, 10, 2, 1)) + " kg"
}

// Volume prints mm³: "62 mm³", "184 cm³", "11.3 L", or "690 in³". A volume that is there is never written as none.
func Volume(mm3 float64, s System) string {
	if s == Inch {
		if in := math.Abs(mm3 / mm3PerInch); in > 0 && in < 0.1 {
			return leastOf(mm3/mm3PerInch, 3) + " in³"
		}
		return Number(mm3/mm3PerInch, fine(mm3/mm3PerInch, 10, 2, 0)) + " in³"
	}
	if v := math.Abs(mm3); v > 0 && v < 100 {
		return leastOf(mm3, 0) + " mm³"
	}
	if math.Abs(mm3) < 1e7 {
		return Number(mm3/1e3, fine(mm3/1e3, 10, 2, 0)) + " cm³"
	}
	return Number(mm3/1e6, 1) + " L"
}

// some is a figure with so many decimals, or what it is under where it is something that those would make nothing.
func some(x float64, decimals int) string {
	if x == 0 {
		return "0"
	}
	return leastOf(x, decimals)
}

// leastOf is a figure with so many decimals, or what it is under where those would make it nothing.
func leastOf(x float64, decimals int) string {
	if least := math.Pow10(-decimals); math.Abs(x) < least/2 {
		return "under " + Number(least, decimals)
	}
	return Number(x, decimals)
}

// Area prints mm²: "32 mm²", "942 cm²", "1.35 m²", or "146 in²", "14.5 ft²". An area that is there is never written as none.
func Area(mm2 float64, s System) string {
	if s == Inch {
		if ft := mm2 / (mmPerFoot * mmPerFoot); math.Abs(ft) >= 10 {
			return Number(ft, 1) + " ft²"
		}
		in := mm2 / (mmPerInch * mmPerInch)
		if v := math.Abs(in); v > 0 && v < 0.1 {
			return leastOf(in, 3) + " in²"
		}
		return Number(in, fine(in, 10, 2, 0)) + " in²"
	}
	if v := math.Abs(mm2); v > 0 && v < 50 {
		return leastOf(mm2, 0) + " mm²"
	}
	if math.Abs(mm2) >= 1e6 {
		return Number(mm2/1e6, fine(mm2/1e6, 10, 2, 1)) + " m²"
	}
	return Number(mm2/100, fine(mm2/100, 10, 2, 0)) + " cm²"
}

// litresPerOunce is a US fluid ounce, 231/128 cubic inches by its definition.
const litresPerOunce = 231. / 128 * mm3PerInch / 1e6

// Liquid prints litres: "81 ml", "1.35 l", or "2.7 US fl oz".
func Liquid(litres float64, s System) string {
	switch {
	case s == Inch:
		return Number(litres/litresPerOunce, 1) + " US fl oz"
	case math.Abs(litres) < 1:
		return Number(litres*1000, 0) + " ml"
	}
	return Number(litres, 2) + " l"
}

// Feed prints mm/min: "2200 mm/min", or "87 in/min".
func Feed(mmMin float64, s System) string {
	if s == Inch {
		return Number(mmMin/mmPerInch, 0) + " in/min"
	}
	return Number(mmMin, 0) + " mm/min"
}

// Angle prints degrees to a tenth: "12.5°".
func Angle(degrees float64) string { return Number(degrees, 1) + "°" }

// Duration prints minutes: "under 1 min", "12 min", and from an hour on "1.5 h", "41.5 h".
func Duration(minutes float64) string {
	switch {
	case minutes == 0:
		return "0 min"
	case minutes > 0 && minutes < 1:
		return "under 1 min"
	case math.Round(minutes) < 60:
		return Number(minutes, 0) + " min"
	}
	return Number(minutes/60, 1) + " h"
}

// fine is decimals below limit, and coarse from there on.
func fine(x, limit float64, below, from int) int {
	if math.Abs(x) < limit {
		return below
	}
	return from
}

// Number prints x with at most decimals places and no trailing noughts; what is not a number is a dash.
func Number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.ContainsRune(text, '.') {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return signed(text)
}

// Signed is Number with a plus where it is more than nothing: how far one figure is off another.
func Signed(x float64, decimals int) string {
	text := Number(x, decimals)
	if x > 0 && text != "0" {
		return "+" + text
	}
	return text
}

// signed is the text of a number with the sign that print has for less than nothing, and not a hyphen.
func signed(text string) string {
	if after, less := strings.CutPrefix(text, "-"); less {
		return "−" + after
	}
	return text
}
