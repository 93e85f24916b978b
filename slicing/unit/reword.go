package unit

import (
	"regexp"
	"strconv"
	"strings"
)

// measure is a metric figure in a sentence, or two with a sign between them, as in "404 × 919 mm".
var measure = regexp.MustCompile(`(\d+(?:\.\d+)?)(?: ([×x]|to) (\d+(?:\.\d+)?))? (mm|mm²|mm³|cm²|cm³|g|kg)([^\p{L}\d²³/]|$)`)

// Reword is a sentence with its metric figures in other units; names of boards and cutters keep theirs. It is for reasons that
// were worded before it is known in which units they will be read.
func Reword(text string, u System, names ...string) string {
	if u == Metric {
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
func inUnit(figure, of string, u System) string {
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return figure + " " + of
	}
	switch of {
	case "mm":
		return Length(v, u)
	case "mm²":
		return Area(v, u)
	case "cm²":
		return Area(100*v, u)
	case "mm³":
		return Volume(v, u)
	case "cm³":
		return Volume(1000*v, u)
	case "kg":
		return Mass(1000*v, u)
	}
	return Mass(v, u)
}
