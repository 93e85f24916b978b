package app

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// newGlueUp is the glue-up sheet.
func (w *window) newGlueUp() *shopPane {
	return w.newShopPane(glueSheet, "glue-up sheet", pane.Gestures{
		Clicked: w.clickGlueUp,
		Zoomed:  func(_ fyne.Position, n float32) { w.leafTo(w.glueUp, w.glueUp.at-int(math.Copysign(1, float64(n)))) },
		Turned:  func(float32, float32) {},
		Key:     func(k fyne.KeyName) { w.keyLeaf(w.glueUp, k) },
		Pointed: func(_ fyne.Position, here bool) {
			w.margin.hint(map[bool]string{true: "The wider the gap, the later it is closed · click a layer or a number, or arrow keys, for its step"}[here])
		},
	})
}

// newSawPlan is the saw plan.
func (w *window) newSawPlan() *shopPane {
	return w.newShopPane(sawSheet, "saw plan", pane.Gestures{
		Zoomed: func(_ fyne.Position, n float32) { w.leafTo(w.saws, w.saws.at-int(math.Copysign(1, float64(n)))) },
		Turned: func(float32, float32) {},
		Key:    func(k fyne.KeyName) { w.keyLeaf(w.saws, k) },
		Pointed: func(_ fyne.Position, here bool) {
			w.margin.hint(map[bool]string{true: "Cuts in the order of their numbers, each from edge to edge · arrow keys go from board to board"}[here])
		},
	})
}

// keyLeaf leafs with the arrow keys.
func (w *window) keyLeaf(s *shopPane, k fyne.KeyName) {
	switch k {
	case fyne.KeyLeft, fyne.KeyPageUp:
		w.leafTo(s, s.at-1)
	case fyne.KeyRight, fyne.KeyPageDown:
		w.leafTo(s, s.at+1)
	case fyne.KeyHome:
		w.leafTo(s, s.numbered(0))
	default:
		w.key(k)
	}
}

// clickGlueUp picks the layer under the hand and the step in which it is put on.
func (w *window) clickGlueUp(at fyne.Position) {
	v, _ := w.workshop()
	if v == nil || v.Withheld != "" {
		return
	}
	n, ok := w.glueUp.glue.LayerAt(w.glueUp.glueAs, float64(at.Y))
	if !ok {
		return
	}
	for _, s := range v.GlueUp.Stages {
		for _, p := range s.Pressings {
			if p.Joint.Above == n || n == 1 && p.Joint.Below == 1 {
				w.leafTo(w.glueUp, p.Number)
			}
		}
	}
	w.pick(n)
}

// pressing is a step of the glue-up by its number.
func pressing(v *job.Workshop, number int) (p glue.Pressing, stage int, ok bool) {
	for _, s := range v.GlueUp.Stages {
		for _, p := range s.Pressings {
			if p.Number == number {
				return p, s.Number, true
			}
		}
	}
	return p, 0, false
}

// layerRun names a run of layers.
func layerRun(g glue.Group) string {
	if g.First == g.Last {
		return fmt.Sprintf("layer %d", g.First)
	}
	return fmt.Sprintf("layers %d to %d", g.First, g.Last)
}

// glueWords are the line above the glue-up sheet and those below it.
func (w *window) glueWords(v *job.Workshop, at int) (caption, facts string) {
	u := w.session.View.Units
	plan := v.GlueUp
	p, stage, ok := pressing(v, at)
	if !ok {
		caption = fmt.Sprintf("Glue-up · %d %s in %d %s", plan.Pressings, phrase.Plural(plan.Pressings, "joint", "joints"), len(plan.Stages), phrase.Plural(len(plan.Stages), "stage", "stages"))
		return caption, fmt.Sprintf("%s of glue · up to %d clamps · %s with the waiting for the clamps", unit.Mass(plan.WetG, u), plan.Clamps, unit.Duration(plan.Minutes))
	}
	g, _ := v.For.GlueIn(w.shelf.now)
	caption = fmt.Sprintf("Glue-up · step %d of %d, stage %d", at, plan.Pressings, stage)
	facts = fmt.Sprintf("%s onto %s · %s of glue on %s · %d clamps, %.1f kN in all · closed within %.0f min of %.0f",
		phrase.Capital(layerRun(p.Upper)), layerRun(p.Lower), unit.Mass(p.Joint.WetG, u), unit.Area(p.Joint.Area, u), p.Joint.Clamps, p.Joint.ForceN/1000,
		math.Ceil(p.CloseMin), g.OpenMin)
	facts += " · " + liftWords(p, u)
	return caption, facts
}

// liftWords say what is lifted and by how many.
func liftWords(p glue.Pressing, u unit.System) string {
	words := "lift " + unit.Mass(p.Upper.MassG, u)
	switch {
	case p.People == 0:
		words += ", not by hand"
	case p.People > 1:
		words += fmt.Sprintf(", %d people", p.People)
	}
	return words
}

// sawWords are the line above the saw plan and those below it.
func (w *window) sawWords(v *job.Workshop, at int) (caption, facts string) {
	u := w.session.View.Units
	left := at
	for _, kind := range v.Boards {
		if left < 1 || left > len(kind.Saw.Boards) {
			left -= len(kind.Saw.Boards)
			continue
		}
		b := kind.Saw.Boards[left-1]
		caption = fmt.Sprintf("Board %d of %d · %d %s, %d %s", at, v.BoardCount(), len(b.Panels), phrase.Plural(len(b.Panels), "panel", "panels"), len(b.Cuts), phrase.Plural(len(b.Cuts), "cut", "cuts"))
		facts = fmt.Sprintf("%s · saw cut %s", kind.Board.Name, unit.Length(kind.Sheet.Kerf, u))
		if len(b.Offcuts) > 0 {
			size := b.Offcuts[0].Size()
			facts += fmt.Sprintf(" · largest offcut %s × %s", unit.Length(size.X, u), unit.Length(size.Y, u))
		}
		if kind.Saw.Cost > 0 {
			facts += fmt.Sprintf(" · %.2f in all of this board", kind.Saw.Cost)
		}
		return caption, facts
	}
	return "Saw plan", ""
}
