package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// NewFinish is the card of the surface, and of how the finished piece is looked at.
func NewFinish(b Bench) *Card {
	rows := []row{
		pick(b, "finish", nil),
		(&note{Ink: paper.Pencil, Text: coatNeed}).on(),
	}
	rows = append(rows, ownTones(b)...)
	rows = append(rows,
		(&choice{Name: "light", Options: options(picture.Lights()), Value: func(s State) string { return picture.Lights()[s.View.Light].Key },
			View: func(_ State, key string) { b.Look(func(v *session.View) { v.Light, _ = picture.LightOf(key) }) }}).on(b),
		(&choice{Name: "stands on", Options: options(picture.Grounds()), Value: func(s State) string { return picture.Grounds()[s.View.Ground].Key },
			View: func(_ State, key string) { b.Look(func(v *session.View) { v.Ground, _ = picture.GroundOf(key) }) }}).on(b),
	)
	return newCard(6, "Finish", finishLine, append(rows,
		(&tick{Name: "cut away above the picked layer", Value: func(s State) bool { return s.View.CutAway },
			View: func(_ State, on bool) { b.Look(func(v *session.View) { v.CutAway = on }) }}).on(b),
		newMeasure(b, quantity{Name: "lift apart", Moves: "air between the layers", Range: job.Range{Kind: unit.Lengths, Step: 1, Least: 0, Most: 60, Low: 0, High: 25},
			Value: func(s State) float64 { return s.View.Lift },
			View:  func(_ State, v float64) { b.Look(func(w *session.View) { w.Lift = v }) }}),
		(&tick{Name: "ring the places that need a look", Value: func(s State) bool { return s.View.Marks },
			View: func(_ State, on bool) { b.Look(func(v *session.View) { v.Marks = on }) }}).on(b),
		(&tick{Name: "show the layer below on the sheet", Value: func(s State) bool { return s.View.Ghost },
			View: func(_ State, on bool) { b.Look(func(v *session.View) { v.Ghost = on }) }}).on(b),
	)...)
}

func options(named []picture.Named) []option {
	var out []option
	for _, n := range named {
		out = append(out, option{Key: n.Key, Name: n.Words})
	}
	return out
}

func coatNeed(s State) string {
	f, ok := s.Catalogue.Finish(s.Settings.Finish)
	if !ok || s.Piece == nil {
		return ""
	}
	k := s.Settings.Scale
	litres := f.Litres(s.Piece.Findings.Area * k * k)
	if litres <= 0 {
		return ""
	}
	return fmt.Sprintf("About %.2g L for the outside (estimate). Solvent and oil rags can take fire by themselves: dry them flat outdoors, and keep to the maker's data sheet.", litres)
}

func finishLine(s State) string {
	line := "none"
	if f, ok := s.Catalogue.Finish(s.Settings.Finish); ok {
		line = f.Name
	}
	if s.View.CutAway {
		line += fmt.Sprintf(" · cut away above layer %d", s.Picked.Layer)
	}
	if s.View.Lift > 0 {
		line += " · lifted apart"
	}
	return line
}
