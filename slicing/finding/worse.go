package finding

import (
	"fmt"

	"grainstack/slicing/phrase"
)

// A Worsening is a kind of finding of which there is more after a change than before.
type Worsening struct {
	Finding      // as it is after the change: the worst of its kind
	New     bool // there was none of the kind
	was, is extent
}

// An extent is how much there is of a kind.
type extent struct {
	places int
	sum    float64 // of sizes
}

// clearly is by how much more there has to be of what doesn't keep a piece from being made: counts of such places are no truer.
const clearly = 1.2

// Worse are the kinds of which there is more after a change than before, the worst first. What nobody will see is left out.
func Worse(before, after []Finding) (out []Worsening) {
	was, is := extents(before), extents(after)
	for _, f := range Gather(after) {
		k := f.Kind
		if k.Class() == Slight || len(out) > 0 && out[len(out)-1].Kind == k {
			continue
		}
		one := Worsening{Finding: f, was: was[k], is: is[k]}
		one.New = one.was.places == 0
		least := 1.0
		if k.Class() > Unmakeable {
			least = clearly
		}
		if one.New || float64(one.is.places) > least*float64(one.was.places) || summed(k) && one.is.sum > clearly*one.was.sum {
			out = append(out, one)
		}
	}
	return out
}

// summed reports whether sizes of a kind can be added up, and more is worse.
func summed(k Kind) bool {
	row := k.row()
	return !row.least && (row.measure == volumes || row.measure == areas)
}

// extents is how much there is of each kind; a finding without places counts as one.
func extents(all []Finding) (out [kinds]extent) {
	for _, f := range all {
		at := &out[min(f.Kind, kinds-1)]
		at.places += max(1, len(f.Places))
		at.sum += sum(f.Places)
	}
	return out
}

// Worsened tells in a sentence what there is more of: "Small part: 5 places instead of 3."
func (w Words) Worsened(c Worsening) string {
	switch {
	case c.New:
		return w.What(c.Finding)
	case summed(c.Kind) && c.is.sum > clearly*c.was.sum:
		m := c.Kind.row().measure
		return fmt.Sprintf("%s: %s in all instead of %s.", phrase.Capital(c.Kind.String()), w.measured(m, c.is.sum), w.measured(m, c.was.sum))
	}
	return fmt.Sprintf("%s: %s instead of %d.", phrase.Capital(c.Kind.String()), phrase.Count(c.is.places, "place"), c.was.places)
}
