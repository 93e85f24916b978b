package files

import (
	"fmt"
	"strings"

	"grainstack/slicing/unit"
)

// listUnits are the units that the figures of lists are written in.
type listUnits unit.System

// heads are the headings of columns. That of a measured one names its unit: %L a length, %A an area, %V a volume, %G a mass, %K a large mass.
func (u listUnits) heads(names ...string) []string {
	units := strings.NewReplacer("%L", "mm", "%A", "cm2", "%V", "cm3", "%G", "g", "%K", "kg")
	if unit.System(u) == unit.Inch {
		units = strings.NewReplacer("%L", "in", "%A", "in2", "%V", "in3", "%G", "oz", "%K", "lb")
	}
	for i, n := range names {
		names[i] = units.Replace(n)
	}
	return names
}

// in is a figure for a list: divided by what its metric unit or that of inches comes to, to so many places.
func (u listUnits) in(v, metric, inch float64, places, inchPlaces int) string {
	if unit.System(u) == unit.Inch {
		return figureTo(v/inch, inchPlaces)
	}
	return figureTo(v/metric, places)
}

func (u listUnits) length(mm float64) string { return u.in(mm, 1, unit.In.MM(), 2, 4) }
func (u listUnits) area(mm2 float64) string  { return u.in(mm2, 100, unit.In.MM()*unit.In.MM(), 1, 2) }
func (u listUnits) grams(g float64) string   { return u.in(g, 1, unit.GramsPerPound/16, 1, 2) }
func (u listUnits) kilos(g float64) string   { return u.in(g, 1000, unit.GramsPerPound, 2, 2) }

// figureTo is a figure to so many places at the most, without needless zeros.
func figureTo(v float64, places int) string {
	s := fmt.Sprintf("%.*f", places, v)
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
