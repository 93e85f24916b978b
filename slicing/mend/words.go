package mend

import (
	"fmt"
	"strconv"

	"grainstack/slicing/geom"
)

// counted says what was done that can be counted: once, and so many times.
var counted = map[ActionKind][2]string{
	Welded:       {"One point of an open seam was joined to its neighbour.", "%s points of open seams were joined to their neighbours."},
	Split:        {"One edge was split where a corner lay on it.", "%s edges were split where a corner lay on them."},
	Dropped:      {"One loose bit of debris was left out.", "%s loose bits of debris were left out."},
	Deduplicated: {"One facet was there twice.", "%s facets were there twice."},
	Turned:       {"One facet was turned to agree with its neighbours.", "%s facets were turned to agree with their neighbours."},
	Reversed:     {"One shell was inside out and was turned.", "%s shells were inside out and were turned."},
	Swallowed:    {"One shell lay wholly inside the wood and was left out.", "%s shells lay wholly inside the wood and were left out."},
	Filled:       {"One hole was filled flush with the surface.", "%s holes were filled flush with the surface."},
	Based:        {"The open base was closed flat.", "%s open bases were closed flat."},
	Untied:       {"One place where surfaces touched at a point was parted.", "%s places where surfaces touched at a point were parted."},
	Cut:          {"The surface ran through itself and was cut there, along one line.", "The surface ran through itself and was cut there, along %s lines."},
	CutOff:       {"One loose bit came off by that and was left out.", "%s loose bits came off by that and were left out."},
	CutShut:      {"One closed pocket that this left was filled.", "%s closed pockets that this left were filled."},
	Sheet:        {"One part that stays open bounds nothing that a grid could hold and was left out.", "%s parts that stay open bound nothing that a grid could hold and were left out."},
	Lost:         {"One loose bit was too small for the grid and was left out.", "%s loose bits were too small for the grid and were left out."},
	Plugged:      {"One closed pocket in the wood was too small for the grid and was filled.", "%s closed pockets in the wood were too small for the grid and were filled."},
}

// text says what was done; mm is a length that belongs to it.
func (k ActionKind) text(n int, mm float64) string {
	switch k {
	case Sawn:
		return "The piece was sawn off at the plane and closed flat."
	case Against:
		return "Where the surface went round the wrong way it was taken to bound nothing."
	case Rebuilt:
		return "The surface ran through itself or could not be closed, and was built anew on a grid of " + lengthMm(mm) + "."
	case RebuiltPart:
		return "What could not be closed was built anew on a grid of " + lengthMm(mm) + "; everything else stays as it was."
	case Shifted:
		return "Where it was built anew the surface moved by up to " + lengthMm(mm) + "."
	}
	words := counted[k]
	s := words[0]
	if n != 1 {
		s = fmt.Sprintf(words[1], thousands(n))
	}
	if k == Based && mm > 0 {
		s += " Up to " + lengthMm(mm) + " of ragged edge was sawn off."
	}
	return s
}

// cutText says how many facets were divided or left out.
func cutText(touched int) string {
	if touched == 1 {
		return " One facet was touched, everything else stays as it was."
	}
	return " " + thousands(touched) + " facets were touched, everything else stays as it was."
}

// placeIn says where something lies in the scan.
func placeIn(p geom.Vec, mmPerUnit float64) string {
	p = p.Scale(mmPerUnit)
	return fmt.Sprintf("at x %.1f, y %.1f, z %.1f mm of the scan", p.X, p.Y, p.Z)
}

// Sentence says the finding in a maker's words; mmPerUnit is how long a unit of the scan is, 0 where not known.
func (f Finding) Sentence(mmPerUnit float64) string {
	count := func(single, many string) string {
		if f.Size <= 1 {
			return single
		}
		return fmt.Sprintf(many, thousands(int(f.Size)))
	}
	switch f.Kind {
	case Hole:
		return "A hole; its edge runs " + inUnits(f.Size, mmPerUnit) + "."
	case Debris:
		return "A loose bit of debris, " + inCubes(f.Size, mmPerUnit) + "."
	case InsideOut:
		return "A shell that is turned inside out, " + inCubes(f.Size, mmPerUnit) + "."
	case Crowded:
		return count("An edge at which more than two facets meet.", "%s edges together at which more than two facets meet.")
	case FlippedArea:
		return "A patch that faces the wrong way, " + inSquares(f.Size, mmPerUnit) + "."
	case ZeroArea:
		return count("A facet that is a mere line.", "%s facets together that are mere lines.")
	case Spike:
		return "A thin spike, " + inUnits(f.Size, mmPerUnit) + " long."
	case Duplicate:
		return count("A facet that is there twice.", "%s facets together that are there twice.")
	case Crossing:
		return count("The surface runs through itself.", "The surface runs through itself over %s facets.")
	}
	return ""
}

func inUnits(v, mmPerUnit float64) string {
	if mmPerUnit <= 0 {
		return digits(v) + " file units"
	}
	return lengthMm(v * mmPerUnit)
}

func inSquares(v, mmPerUnit float64) string {
	if mmPerUnit <= 0 {
		return digits(v) + " square file units"
	}
	if v *= mmPerUnit * mmPerUnit; v >= 1000 {
		return digits(v/100) + " cm²"
	}
	return digits(v) + " mm²"
}

func inCubes(v, mmPerUnit float64) string {
	if mmPerUnit <= 0 {
		return digits(v) + " cubic file units"
	}
	if v *= mmPerUnit * mmPerUnit * mmPerUnit; v >= 1000 {
		return digits(v/1000) + " cm³"
	}
	return digits(v) + " mm³"
}

func lengthMm(mm float64) string {
	switch {
	case mm >= 10:
		return strconv.FormatFloat(mm, 'f', 0, 64) + " mm"
	case mm >= 0.1:
		return strconv.FormatFloat(mm, 'f', 1, 64) + " mm"
	}
	return digits(mm) + " mm"
}

// digits is v to three digits without an exponent.
func digits(v float64) string {
	s, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	return strconv.FormatFloat(s, 'f', -1, 64)
}

// thousands is n in groups of three with narrow spaces.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}
