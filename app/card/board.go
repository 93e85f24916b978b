package card

import (
	"fmt"
	"math"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Board is the card of the plywood and how it is made into layers.
func Board(b Bench) *Card {
	boards := stocked("board", func(c *stock.Catalogue) []stock.Board { return c.Boards }, func(o stock.Board) option { return option{o.Key, o.Name} })
	rows := []row{
		(&choice{Name: "board", List: boards, Value: func(s State) string { return s.Settings.Board }, Set: withBoard}).on(b),
	}
	rows = append(rows, thicknesses(b)...)
	rows = append(rows,
		clearing(b),
		(&tick{Name: "turn every second layer by 90°", Value: func(s State) bool { return s.Settings.Alternate },
			Set: func(s State, on bool) job.Settings { s.Settings.Alternate = on; return s.Settings }}).on(b),
		(&note{Ink: paper.Ink, Text: remainder}).on(),
		(&presses{Each: []press{
			{Do: func(s State) { whole(b, s.Figures.Remainder.Fewer) }, Show: wholeName(false)},
			{Do: func(s State) { whole(b, s.Figures.Remainder.More) }, Show: wholeName(true)},
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
		(&measure{Name: "measured", Moves: "as your caliper says", Kind: Length, Step: 0.05, Least: 3, Most: 50, Low: 9, High: 25,
			Range: func(s State) (float64, float64) { return math.Max(3, 2*s.Settings.Skim+1), 50 },
			Value: boardThickness,
			Set:   func(s State, v float64) job.Settings { s.Settings.BoardThickness = v; return s.Settings }}).on(b),
		(&measure{Name: "skim", Moves: "which veneers show", Kind: Length, Step: 0.05, Least: 0, Most: 10, Low: 0.3, High: 1.5,
			Range: func(s State) (float64, float64) { return 0, math.Max(0, (boardThickness(s)-1)/2) },
			Value: func(s State) float64 { return s.Settings.Skim },
			Set:   func(s State, v float64) job.Settings { s.Settings.Skim = v; return s.Settings }}).on(b),
		(&measure{Name: "layer", Moves: "layers, stripes, hours", Kind: Length, Step: 0.1, Least: 1, Most: 50, Low: 8, High: 20,
			Range: func(s State) (float64, float64) { return s.Settings.LayerRange(s.Catalogue) },
			Value: func(s State) float64 { return s.Settings.LayerThickness(s.Catalogue) },
			Set:   func(s State, v float64) job.Settings { return s.Settings.WithLayer(s.Catalogue, v) }}).on(b),
		(&choice{Name: "which moves", Options: []option{{"board", "skim (board held)"}, {"skim", "board (skim held)"}},
			Value: func(s State) string {
				if s.Settings.Hold == job.HoldSkim {
					return "skim"
				}
				return "board"
			},
			Set: func(s State, key string) job.Settings {
				s.Settings.Hold = job.HoldBoard
				if key == "skim" {
					s.Settings.Hold = job.HoldSkim
				}
				return s.Settings
			}}).on(b),
		(&measure{Name: "first joint", Moves: "where all joints lie", Kind: Length, Step: 0.1, Least: 0, Most: 50, Low: 8, High: 20,
			Range: func(s State) (float64, float64) { return 0.5, s.Settings.LayerThickness(s.Catalogue) },
			Value: func(s State) float64 {
				if t := s.Settings.LayerThickness(s.Catalogue); s.Settings.FirstJoint <= 0 || s.Settings.FirstJoint > t {
					return t
				}
				return s.Settings.FirstJoint
			},
			Set: func(s State, v float64) job.Settings {
				return s.Settings.WithFirstJoint(v, s.Catalogue)
			}}).on(b),
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
		return fmt.Sprintf("%d layers, and the last comes out whole.", f.Remainder.Layers)
	}
	return fmt.Sprintf("%d layers; the last has %s of wood. Scaled, it comes out whole:", f.Remainder.Layers, unit.Length(f.Remainder.Last, s.View.Units))
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
		return strings.Replace(fmt.Sprintf("%d layers: %+.1f %%", layers, 100*(factor-1)), "-", "−", 1), true
	}
}

func whole(b Bench, factor float64) {
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
