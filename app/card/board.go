package card

import (
	"fmt"
	"math"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/unit"
)

// NewBoard is the card of the plywood and how it is made into layers.
func NewBoard(b Bench) *Card {
	rows := []row{pick(b, "board", func(c *choice) { c.Set = withBoard })}
	rows = append(rows, thicknesses(b)...)
	rows = append(rows,
		clearing(b),
		ticked(b, "same-way"),
		(&note{Ink: paper.Ink, Text: remainder}).on(),
		(&presses{Each: []press{
			{Do: func(s State) { wholeLayers(b, s.Figures.Remainder.Fewer) }, Show: wholeName(false)},
			{Do: func(s State) { wholeLayers(b, s.Figures.Remainder.More) }, Show: wholeName(true)},
		}}).on(),
		(&note{Ink: paper.Ink, Text: grainAtJoints}).on(),
		(&edge{}).on(),
	)
	rows = append(rows, thisLayer(b)...)
	return newCard(4, "Board", boardLine, rows...)
}

// thicknesses are the rows of the board's, the skim's and the layer's thickness.
func thicknesses(b Bench) []row {
	return []row{
		figure(b, "board-thickness", func(m *quantity) {
			m.Limits = func(s State) (float64, float64) { return 2*s.Settings.Skim + 1, m.Most }
		}),
		figure(b, "skim", func(m *quantity) {
			m.Limits = func(s State) (float64, float64) { return 0, math.Max(0, (boardThickness(s)-1)/2) }
		}),
		figure(b, "layer-thickness", func(m *quantity) {
			m.Limits = func(s State) (float64, float64) { return s.Settings.LayerRange(s.Catalogue) }
			m.Value = func(s State) float64 { return s.Settings.LayerThickness(s.Catalogue) }
			m.Set = func(s State, v float64) job.Settings { return s.Settings.WithLayer(s.Catalogue, v) }
		}),
		pick(b, "hold", nil),
		figure(b, "first-joint", func(m *quantity) {
			own := m.Value
			m.Limits = func(s State) (float64, float64) { return 0.5, s.Settings.LayerThickness(s.Catalogue) }
			m.Value = func(s State) float64 { return math.Min(own(s), s.Settings.LayerThickness(s.Catalogue)) }
			m.Set = func(s State, v float64) job.Settings { return s.Settings.WithFirstJoint(v, s.Catalogue) }
		}),
	}
}

// withBoard takes another board at the catalogue's thickness with the usual skim.
func withBoard(s State, key string) job.Settings {
	s.Settings = s.Settings.WithBoard(key)
	s.Settings.BoardThickness, s.Settings.FirstJoint = 0, 0
	return s.Settings.WithUsualSkim(s.Catalogue)
}

func boardThickness(s State) float64 {
	b, _ := s.Settings.BoardIn(s.Catalogue)
	return b.Thickness
}

func remainder(s State) string {
	f := s.Figures
	if f == nil || s.Stale || len(f.Layers) == 0 {
		return ""
	}
	if f.Remainder.Whole {
		return phrase.Count(f.Remainder.Layers, "layer") + ", and the last comes out whole."
	}
	return fmt.Sprintf("%s; the last has %s of wood. Scaled, it comes out whole:", phrase.Count(f.Remainder.Layers, "layer"), unit.Length(f.Remainder.Last, s.View.Units))
}

// wholeName is the button that scales the piece so that the last layer comes out whole.
func wholeName(more bool) func(State) (string, bool) {
	return func(s State) (string, bool) {
		f := s.Figures
		if f == nil || s.Stale || len(f.Layers) == 0 || f.Remainder.Whole {
			return "", false
		}
		factor, layers := f.Remainder.Fewer, f.Remainder.FewerLayers
		if more {
			factor, layers = f.Remainder.More, f.Remainder.MoreLayers
		}
		if layers == 0 {
			return "", false
		}
		return phrase.Count(layers, "layer") + ": " + unit.Signed(100*(factor-1), 1) + " %", true
	}
}

func wholeLayers(b Bench, factor float64) {
	if !(factor > 0) {
		return
	}
	b.Do("scale to whole layers", func(s job.Settings) job.Settings { return scaled(s, s.Scale*factor) })
	b.Rest()
}

func grainAtJoints(s State) string {
	f := s.Figures
	if f == nil || s.Stale || len(f.Layers) < 2 {
		return ""
	}
	if words := grainOfMixed(f); words != "" {
		return words
	}
	switch f.Layers[1].Grain {
	case stack.Alternates:
		return "At every joint the grain alternates, as inside the board."
	case stack.Doubles:
		return "At every joint the grain doubles: two veneers show as one thick stripe."
	}
	return "This board has no grain."
}

func boardLine(s State) string {
	b, ok := s.Settings.BoardIn(s.Catalogue)
	if !ok {
		return "none"
	}
	return fmt.Sprintf("%s · layer %s", b.Name, unit.Length(s.Settings.LayerThickness(s.Catalogue), s.View.Units))
}
