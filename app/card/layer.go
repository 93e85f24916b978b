package card

import (
	"fmt"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// thisLayer are the rows for the picked layer's own board and turn.
func thisLayer(b Bench) []row {
	boards := func(c *stock.Catalogue) []option {
		return append([]option{{Name: "as the others"}}, marked("board", job.SettingOf("board").Choices(c), c)...)
	}
	other := func(s State) job.Other { return s.Settings.Mix.Of(s.Picked.Layer) }
	with := func(s State, o job.Other) job.Settings {
		s.Settings.Mix = s.Settings.Mix.With(s.Picked.Layer, o)
		return s.Settings
	}
	return []row{
		(&note{Ink: paper.Ink, Text: mixedLayers}).on(),
		(&choice{Name: "this layer", List: boards,
			Value: func(s State) string { return other(s).Board },
			Set: func(s State, key string) job.Settings {
				return with(s, job.Other{Board: key, Turn: other(s).Turn})
			}}).on(b),
		(&tick{Name: "this layer turned by 90° more", Value: func(s State) bool { return other(s).Turn },
			Set: func(s State, on bool) job.Settings {
				return with(s, job.Other{Board: other(s).Board, Turn: on})
			}}).on(b),
		(&presses{Each: []press{{Do: func(State) {
			b.Do("all layers alike", func(s job.Settings) job.Settings { s.Mix = ""; return s })
			b.Rest()
		}, Show: func(s State) (string, bool) {
			if s.Settings.Mix == "" {
				return "", false
			}
			return "All layers alike again", true
		}}}}).on(),
	}
}

// mixedLayers says which layer is picked, and which of the stack's are not as the others.
func mixedLayers(s State) string {
	if s.Figures == nil || len(s.Figures.Layers) == 0 {
		return ""
	}
	text := fmt.Sprintf("Picked is layer %d of %d.", s.Picked.Layer, len(s.Figures.Layers))
	var own []string
	blanks := s.Settings.Blanks(s.Catalogue)
	for i := range s.Figures.Layers {
		if n := i + 1; blanks.Mixed(n) {
			own = append(own, fmt.Sprintf("%d (%s)", n, otherWords(blanks.Of(n).Board, s.Settings, n)))
		}
	}
	if len(own) == 0 {
		return text + " All layers are alike."
	}
	return text + " Not as the others: " + strings.Join(own, ", ") + "."
}

func otherWords(b stock.Board, s job.Settings, layer int) string {
	turn := ""
	if s.Mix.Of(layer).Turn {
		turn = "turned"
	}
	switch {
	case b.Key == s.Board:
		return turn
	case turn == "":
		return b.Name
	}
	return b.Name + ", " + turn
}

// grainOfMixed says how the grain meets at the joints where they are not all alike; "" where they are.
func grainOfMixed(f *job.Figures) string {
	double, alternate := 0, 0
	for _, l := range f.Layers[1:] {
		switch l.Grain {
		case stack.Doubles:
			double++
		case stack.Alternates:
			alternate++
		}
	}
	n := len(f.Layers) - 1
	if double == n || alternate == n || double+alternate == 0 {
		return ""
	}
	return fmt.Sprintf("At %d of %d joints the grain alternates, at %d it doubles.", alternate, n, double)
}
