package job

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/stack"
)

// unmixed are the settings with all layers alike.
func (s Settings) unmixed() Settings {
	s.Mix = ""
	return s
}

// cautionGrain looks at joints where the grain doesn't cross: those of the stack as it would be with all layers alike, and
// those that a layer's own board or turn has made so. That neighbours cross, so that each holds the other where it swells and
// shrinks most, is common practice, no source.
func (f *Figures) cautionGrain(add func(finding.Finding), alike Blanks) {
	var own []int
	for i := 1; i < len(f.Layers); i++ {
		l := &f.Layers[i]
		below, above := alike.Of(l.Number-1), alike.Of(l.Number)
		if l.Grain == stack.Doubles && stack.JointGrain(below.Veneers, above.Veneers, below.Turned, above.Turned) != stack.Doubles {
			own = append(own, l.Number)
		}
	}
	if len(own) > 0 {
		add(finding.InLayers(finding.OwnDoubled, own...))
	}
	rest := f.Totals.DoubledJoints - len(own)
	switch {
	case rest > 0 && f.For.Alternate && rest == len(f.Layers)-1:
		add(finding.Of(finding.AllDoubled))
	case rest > 0 && f.For.Alternate:
		add(finding.Of(finding.Doubled).With(float64(rest), 1))
	case rest > 0:
		add(finding.Of(finding.Doubled).With(float64(rest)))
	}
}

// cautionBoards looks at what planing leaves of boards that only single layers are of.
func (f *Figures) cautionBoards(add func(finding.Finding)) {
	seen := map[string]bool{f.For.Board: true}
	for i := range f.Layers {
		l := &f.Layers[i]
		if seen[l.Board.Key] || len(l.Veneers) < 2 {
			continue
		}
		seen[l.Board.Key] = true
		if v := l.Veneers[0].Thickness; v < thinVeneer {
			add(finding.InLayers(finding.PlanedThin, l.Number).With(f.Thickness, v, f.Thickness-2*v).Named(l.Board.Name))
		}
	}
}
