package card

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/carve"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// machining is the plan of the picked layer's panel, a line a step.
type machining struct {
	head  *paper.Words
	lines []*widget.Label
	foot  *widget.Label
	steps *fyne.Container
	box   *fyne.Container

	of    *job.Reached // that the lines are of, with the layer and the units
	layer int
	units unit.System
}

func (m *machining) on() *machining {
	m.head, m.foot = paper.Write("", paper.Small, paper.Ink).Bold(), paper.Sentence(paper.Pencil)
	m.steps = container.NewVBox()
	m.box = container.NewVBox(m.head, m.steps, m.foot)
	m.box.Hide()
	return m
}

func (m *machining) object() fyne.CanvasObject { return m.box }

func (m *machining) show(s State) {
	r := s.Carving.Reached
	if r == m.of && s.Picked.Layer == m.layer && s.View.Units == m.units {
		return
	}
	m.of, m.layer, m.units = r, s.Picked.Layer, s.View.Units
	var plan []hours.Step
	if r != nil {
		plan = r.Machining(s.Figures, s.Picked.Layer)
	}
	if len(plan) == 0 {
		m.box.Hide()
		return
	}
	m.head.Say(fmt.Sprintf("At the machine: layer %d", s.Picked.Layer))
	for len(m.lines) < len(plan) {
		line := paper.Sentence(paper.Ink)
		m.lines = append(m.lines, line)
		m.steps.Add(line)
	}
	for i, line := range m.lines {
		if i >= len(plan) {
			line.Hide()
			continue
		}
		line.SetText(fmt.Sprintf("%d. %s", i+1, stepWords(plan[i], s)))
		line.Show()
	}
	m.foot.SetText(planFoot(plan, s))
	m.box.Show()
}

// stepWords say one step of a plan.
func stepWords(st hours.Step, s State) string {
	u := s.View.Units
	k, _ := s.Catalogue.Cutter(st.Cutter)
	minutes := " · " + unit.Duration(st.Minutes)
	side := phrase.Capital(sideName(st.Side)) + ": "
	switch st.Op {
	case hours.Clamp:
		return "Lay the panel on and fix it" + minutes
	case hours.Drill:
		return "Drill the holes of the register dowels" + minutes
	case hours.Turn:
		return "Turn the panel, " + sideName(st.Side) + " up" + minutes
	case hours.ChangeCutter:
		return "Change to the " + phrase.Inside(k.Name) + " and set its height" + minutes
	case hours.Skim:
		return side + "skim in " + howMany(st.Levels, "level") + " with the " + phrase.Inside(k.Name) + ", rows every " + unit.Length(st.Stepover, u) + " · counted with the rough pass"
	case hours.Saw:
		return side + "saw the core along its outline in " + howMany(st.Levels, "level") + " · counted with the rough pass"
	case hours.Rough:
		text := side + "rough in " + howMany(st.Levels, "level") + " of " + unit.Length(st.Stepdown, u)
		if st.Depth > 0 {
			text += " down to " + unit.Length(st.Depth, u)
		}
		return text + ", rows every " + unit.Length(st.Stepover, u) + ", leaving " + unit.Length(st.Leave, u) + minutes
	}
	way := "along"
	if st.AcrossGrain {
		way = "across"
	}
	text := side + "finish in rows " + way + " the grain, every " + unit.Length(st.Stepover, u)
	if st.Cusp > 0 {
		text += ", ridges of " + ridge(st.Cusp, u) + " on level wood"
	}
	return text + ", down to " + unit.Length(st.Depth, u) + minutes
}

// planFoot says what holds for all of a plan.
func planFoot(plan []hours.Step, s State) string {
	router, hands := hours.Minutes(plan)
	var around hours.Step
	for _, st := range plan {
		if st.Boundary > 0 {
			around = st
		}
	}
	return fmt.Sprintf("Carve no further than %s beyond each part; go %s above the panel between cuts. %s at the router, %s by hand, if it has the panel to itself.",
		unit.Length(around.Boundary, s.View.Units), unit.Length(around.Safe, s.View.Units), unit.Duration(router), unit.Duration(hands))
}

func howMany(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func sideName(side carve.Side) string {
	if side == carve.Down {
		return "lower side"
	}
	return "upper side"
}
