package sheet

import "strings"

// wrap breaks words into lines at most width long; a word that is longer than that is cut short.
func wrap(s Style, words string, size, width float64) []string {
	var lines []string
	line := ""
	for w := range strings.FieldsSeq(words) {
		longer := w
		if line != "" {
			longer = line + " " + w
		}
		if s.Letters.Width(longer, size, false) <= width {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = fitted(s, w, size, false, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fitted is words, shortened with an ellipsis to width if need be; nothing where not even that fits.
func fitted(s Style, words string, size float64, bold bool, width float64) string {
	if s.Letters.Width(words, size, bold) <= width {
		return words
	}
	r := []rune(words)
	for n := len(r) - 1; n > 0; n-- {
		if t := strings.TrimRight(string(r[:n]), " ·,") + "…"; s.Letters.Width(t, size, bold) <= width {
			return t
		}
	}
	return ""
}
