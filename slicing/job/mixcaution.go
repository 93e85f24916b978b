package job

import (
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
func (f *Figures) cautionGrain(add func(int, string, ...any), alike Blanks) {
	var own []int
	for i := 1; i < len(f.Layers); i++ {
		l := &f.Layers[i]
		below, above := alike.Of(l.Number-1), alike.Of(l.Number)
		if l.Grain == stack.Doubles && stack.JointGrain(below.Veneers, above.Veneers, below.Turned, above.Turned) != stack.Doubles {
			own = append(own, l.Number)
		}
	}
	if n := len(own); n > 0 {
		add(own[0], "At the joint%s under layer%s %s the grain doesn't cross: both sides of the joint run the same way, show as one thick stripe and swell the same way. It is common practice to cross the grain at every joint: turn one of the two layers, or keep it if the stripe is wanted.",
			verb(own, "", "s"), verb(own, "", "s"), runs(own))
	}
	rest := f.Totals.DoubledJoints - len(own)
	switch {
	case rest > 0 && f.For.Alternate && rest == len(f.Layers)-1:
		add(0, "At every joint two veneers of the same grain meet although layers are turned: with this board and skim, lay the layers all the same way.")
	case rest > 0 && f.For.Alternate:
		add(0, "At %d joints two veneers of the same grain meet although layers are turned: with this board and skim, lay the layers all the same way.", rest)
	case rest > 0:
		add(0, "At %d joints two veneers of the same grain meet and show as one thick stripe: turn every second layer.", rest)
	}
}

// cautionBoards looks at what planing leaves of boards that only single layers are of.
func (f *Figures) cautionBoards(add func(int, string, ...any)) {
	seen := map[string]bool{f.For.Board: true}
	for i := range f.Layers {
		l := &f.Layers[i]
		if seen[l.Board.Key] || len(l.Veneers) < 2 {
			continue
		}
		seen[l.Board.Key] = true
		if v := l.Veneers[0].Thickness; v < thinVeneer {
			add(l.Number, "Planed to %.4g mm, %s keeps %.2f mm of its outermost veneers, a sliver at each of its joints: skim the others so that layers are %.4g mm, or take another board for it.",
				f.Thickness, l.Board.Name, v, f.Thickness-2*v)
		}
	}
}
