package card

import (
	"fmt"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/compass"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A Steerer is where the card of directions writes.
type Steerer struct {
	Compare func() // begin, or leave it
	Take    func() // take the best
	Weigh   func(of compass.Measure, weight float64)
}

// mostWeight is the end of a weight's rule: twenty times what a small one counts.
const mostWeight = 5

// NewDirections is the card of which way the stack runs: what counts, and what is best by that.
func NewDirections(b Bench, to Steerer) *Card {
	rows := []row{
		(&note{Ink: paper.Pencil, Text: func(State) string {
			return "Each direction is worked out on the thinned piece. The map lies beside the layer sheet: move over it, and the piece follows. A stand on which it falls over is never called best while \"tilt it stands\" counts."
		}}).on(),
		(&presses{Each: []press{
			{Do: func(State) { to.Compare() }, Show: func(s State) (string, bool) {
				if s.Compass.Busy {
					return fmt.Sprintf("Call it off · %.0f %%", 100*s.Compass.Share), true
				}
				return "Compare directions", s.Piece != nil && s.Piece.Solid()
			}},
			{Do: func(State) { to.Take() }, Show: func(s State) (string, bool) { return "Take the best", s.Compass.Found > 0 }},
		}}).on(),
		(&note{Ink: paper.Ink, Text: bestWords}).on(),
		(&note{Ink: paper.Pencil, Text: func(State) string { return "How much each measure counts:" }}).on(),
	}
	for m := range compass.Measures {
		rows = append(rows, newMeasure(b, quantity{Name: m.Words(), Moves: "which direction is best", Range: job.Range{Kind: unit.Factors, Step: 0.25, Most: mostWeight, High: 2},
			Value: func(s State) float64 { return s.Compass.Weights[m] },
			View:  func(_ State, v float64) { to.Weigh(m, v) },
			Set:   func(s State, _ float64) job.Settings { return s.Settings }}))
	}
	c := newCard(0, "Directions", directionsLine, rows...)
	c.head.key.Say("O")
	return c
}

func directionsLine(s State) string {
	switch c := s.Compass; {
	case c.Fault != "":
		return c.Fault
	case c.Busy:
		return fmt.Sprintf("%d looked at …", c.Found)
	case c.Found == 0:
		return "not compared yet"
	case c.Stale:
		return "compared for older settings"
	default:
		return "best: " + c.Lean
	}
}

func bestWords(s State) string {
	c := s.Compass
	if c.Fault != "" || c.Found == 0 {
		return c.Fault
	}
	text := "Best of " + fmt.Sprint(c.Found) + ": " + c.Lean + ". " + strings.Join(c.Best[:], " · ") + "."
	if c.Stale {
		text = "For older settings. " + text
	}
	if c.Moved > 0 {
		text += fmt.Sprintf(" The thinned surface is at most %s off.", fine(c.Moved, s.View.Units))
	}
	return text
}
