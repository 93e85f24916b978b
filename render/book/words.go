package book

import (
	"strings"

	"grainstack/render/draw"
)

// wrap breaks words into lines at most width long; a word longer than that is broken, nothing is left out.
func wrap(l *draw.Letters, words string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	flush := func() {
		if line != "" {
			lines = append(lines, line)
			line = ""
		}
	}
	for w := range strings.FieldsSeq(words) {
		if longer := strings.TrimLeft(line+" "+w, " "); l.Width(longer, size, bold) <= width {
			line = longer
			continue
		}
		flush()
		for _, r := range w {
			if line != "" && l.Width(line+string(r), size, bold) > width {
				flush()
			}
			line += string(r)
		}
	}
	flush()
	return lines
}
