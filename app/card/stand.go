package card

import (
	"math"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// axes are the three fixed axes that the piece is turned about.
var axes = [3]string{"forward", "sideways", "round"}

// NewStand is the card of how the piece stands under the stack's axis.
func NewStand(b Bench) *Card {
	rows := []row{(&note{Ink: paper.Pencil, Text: func(State) string {
		return "Drag the piece to turn it: the stripes run over it as it goes."
	}}).on()}
	for i, name := range axes {
		rows = append(rows, newMeasure(b, quantity{Name: name, Moves: "stripes, layers", Range: job.Range{Kind: unit.Angles, Step: 1, Least: -180, Most: 180, Low: -30, High: 30},
			Value: func(s State) float64 { return s.Angles[i] },
			Set: func(s State, v float64) job.Settings {
				a := s.Angles
				a[i] = v
				s.Settings.Turn = geom.TurnXYZ(a[0], a[1], a[2])
				return s.Settings
			}}))
	}
	quarters := presses{}
	for i, name := range axes {
		quarters.Each = append(quarters.Each, press{Name: name + " 90°", Do: func(State) {
			turn(b, "quarter turn "+name, func(t geom.Turn) geom.Turn { return t.Then(quarter(i)) })
		}})
	}
	rows = append(rows, quarters.on(), (&presses{Each: []press{
		{Do: func(State) { b.Run("lay") }, Show: func(s State) (string, bool) {
			if s.Picked.Click == "lay" {
				return "Click a facet", true
			}
			return "Lay on a facet", s.Piece != nil
		}},
		{Do: func(State) { b.Run("floor") }, Show: func(s State) (string, bool) {
			if s.Picked.Click == "floor" {
				return "Click three points", true
			}
			return "On three points", s.Piece != nil
		}},
	}}).on(), (&presses{Each: []press{
		{Name: "Straighten", Do: func(s State) {
			turn(b, "straighten", func(geom.Turn) geom.Turn { return straight(s.Angles) })
		}},
		{Name: "As it came", Do: func(State) {
			turn(b, "stand as it came", func(geom.Turn) geom.Turn { return geom.NoTurn() })
		}},
	}}).on())
	return newCard(3, "Stand", standLine, rows...)
}

func turn(b Bench, name string, change func(geom.Turn) geom.Turn) {
	b.Do(name, func(s job.Settings) job.Settings {
		s.Turn = change(s.Turn)
		return s
	})
	b.Rest()
}

func quarter(axis int) geom.Turn {
	var a [3]float64
	a[axis] = 90
	return geom.TurnXYZ(a[0], a[1], a[2])
}

// straight is the stand with every angle at the nearest quarter.
func straight(a [3]float64) geom.Turn {
	for i := range a {
		a[i] = 90 * math.Round(a[i]/90)
	}
	return geom.TurnXYZ(a[0], a[1], a[2])
}

func standLine(s State) string {
	if s.Settings.Turn == geom.NoTurn() {
		return "as it came"
	}
	var line strings.Builder
	for i, name := range axes {
		if s.Angles[i] != 0 {
			line.WriteString(name + " " + unit.Angle(s.Angles[i]) + " · ")
		}
	}
	return line.String()[:max(0, len(line.String())-len(" · "))]
}
