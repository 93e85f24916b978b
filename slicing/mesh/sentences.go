package mesh

import (
	"fmt"
	"strconv"
)

// Sentences say in a maker's words what keeps the surface from being a solid; none for a clean one. mmPerUnit is how long
// a file unit is; 0 where that is not known yet.
func (f Findings) Sentences(mmPerUnit float64) []string {
	var out []string
	say := func(n int, one, many string, args ...any) {
		switch {
		case n == 1:
			out = append(out, fmt.Sprintf(one, args...))
		case n > 1:
			out = append(out, fmt.Sprintf(many, append([]any{thousands(n)}, args...)...))
		}
	}
	rim := inUnits(f.LongestHole, mmPerUnit)
	say(f.Holes, "The surface has a hole; its edge runs %s.", "The surface has %s holes; the longest edge runs %s.", rim)
	say(f.FlippedEdges, "At one edge, neighbouring facets face opposite sides.",
		"At %s edges, neighbouring facets face opposite sides.")
	say(f.NonManifoldEdges, "At one edge, more than two facets meet.", "At %s edges, more than two facets meet.")
	switch {
	case f.InwardShells > 0 && f.Shells == 1:
		out = append(out, "The surface is turned inside out.")
	default:
		say(f.InwardShells, "One of its pieces is turned inside out.", "%s of its pieces are turned inside out.")
	}
	say(f.ZeroArea, "One facet is a mere line.", "%s facets are mere lines.")
	if f.Crosses {
		out = append(out, "The surface runs through itself.")
	}
	if f.Volume == 0 {
		out = append(out, "The surface encloses nothing.")
	}
	return out
}

// inUnits is a length for a sentence, to the millimetre or to three digits.
func inUnits(v, mmPerUnit float64) string {
	if mmPerUnit <= 0 {
		return strconv.FormatFloat(v, 'g', 3, 64) + " file units"
	}
	if mm := v * mmPerUnit; mm >= 10 {
		return strconv.FormatFloat(mm, 'f', 0, 64) + " mm"
	}
	return strconv.FormatFloat(v*mmPerUnit, 'f', 1, 64) + " mm"
}

// thousands is n in groups of three with narrow spaces.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}
