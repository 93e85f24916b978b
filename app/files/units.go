package files

import (
	"regexp"
	"strconv"
	"strings"

	"grainstack/slicing/unit"
)

// measure is a metric figure in a sentence, or two with a sign between them, as in "404 × 919 mm".
var measure = regexp.MustCompile(`(\d+(?:\.\d+)?)(?: ([×x]|to) (\d+(?:\.\d+)?))? (mm|mm²|mm³|cm²|cm³|g|kg)([^\p{L}\d²³/]|$)`)

// inUnits is a sentence with its metric figures in other units; names of boards and cutters keep theirs. Sentences about a
// piece are made before it is known in which units they will be read.
func inUnits(text string, u unit.System, names ...string) string {
	if u == unit.Metric {
		return text
	}
	var hidden []string
	for i, n := range names {
		if n != "" && strings.Contains(text, n) {
			mark := "\x00" + strconv.Itoa(i) + "\x00"
			text, hidden = strings.ReplaceAll(text, n, mark), append(hidden, mark, n)
		}
	}
	text = measure.ReplaceAllStringFunc(text, func(found string) string {
		m := measure.FindStringSubmatch(found)
		first := inUnit(m[1], m[4], u)
		if m[3] != "" {
			if m[2] != "to" || m[4] == "mm" { // both are lengths: the unit stands once
				first, _, _ = strings.Cut(first, " ")
			}
			first += " " + m[2] + " " + inUnit(m[3], m[4], u)
		}
		return first + m[5]
	})
	return strings.NewReplacer(hidden...).Replace(text)
}

// inUnit is a figure with its metric unit in other units.
func inUnit(figure, of string, u unit.System) string {
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return figure + " " + of
	}
	switch of {
	case "mm":
		return unit.Length(v, u)
	case "mm²":
		return unit.Area(v, u)
	case "cm²":
		return unit.Area(100*v, u)
	case "mm³":
		return unit.Volume(v, u)
	case "cm³":
		return unit.Volume(1000*v, u)
	case "kg":
		return unit.Mass(1000*v, u)
	}
	return unit.Mass(v, u)
}

// tradeNames are the names of what is bought that may hold figures of their own.
func (b *bench) tradeNames() (out []string) {
	for _, s := range b.Workshop.Boards {
		out = append(out, s.Board.Name)
	}
	s := b.Workshop.For.Setup(b.Catalogue)
	for _, n := range []string{s.Rough.Name, s.Finish.Name} {
		out = append(out, n, strings.ToLower(n[:1])+n[1:])
	}
	return out
}
