package wayout

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"strings"
)

// A spot says where on the piece a place lies.
type spot struct{ at, size geom.Vec }

// In is the spot in units.
func (s spot) In(u unit.System) string {
	return finding.Words{Units: u}.Whereabouts(finding.Place{At: s.at, Where: finding.Whereabouts(s.at, s.size)})
}

func (s spot) String() string { return s.In(unit.Metric) }

// A row of sentences is written with a sign between two and another before the last.
type row struct {
	all        []unit.Said
	then, last string
}

// In is the row in units.
func (r row) In(u unit.System) string {
	var text strings.Builder
	for i, one := range r.all {
		switch {
		case i > 0 && i == len(r.all)-1:
			text.WriteString(r.last)
		case i > 0:
			text.WriteString(r.then)
		}
		text.WriteString(one.In(u))
	}
	return text.String()
}

func (r row) String() string { return r.In(unit.Metric) }

// capital is a sentence that begins with a capital.
type capital struct{ of unit.Said }

// In is the sentence in units.
func (c capital) In(u unit.System) string { return phrase.Capital(c.of.In(u)) }

func (c capital) String() string { return c.In(unit.Metric) }
