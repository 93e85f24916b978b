package app

import (
	"fmt"
	"strings"

	"grainstack/app/pane"
	"grainstack/app/route"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A router shows the line of the job and leads to what a step is about.
type router struct {
	*core
	line  *pane.Route
	tasks *tasks
	cards *cards
}

func newRouter(c *core, t *tasks, cards *cards) *router {
	r := &router{core: c, line: pane.NewRoute(), tasks: t, cards: cards}
	r.line.Chosen = func(i int) { r.leadTo(route.Step(i)) }
	r.line.Over = func(i int) {
		if i < 0 {
			r.Hint("")
			return
		}
		s := route.Of(r.bench)[i]
		r.Hint(s.Step.String() + ": " + s.Words)
	}
	return r
}

// stopMarks are how the marks of steps are drawn.
var stopMarks = map[route.Mark]pane.StopMark{
	route.Ahead: pane.StopAhead, route.Settled: pane.StopSettled, route.Guessed: pane.StopGuessed,
	route.AtWork: pane.StopAtWork, route.LeftOff: pane.StopLeft, route.InDoubt: pane.StopInDoubt,
}

// show shows how far every step is.
func (r *router) show() {
	stages := route.Of(r.bench)
	stops := make([]pane.Stop, len(stages))
	for i, s := range stages {
		share := float32(int(s.Share*20)) / 20 // each repaint costs as much as a picture
		stops[i] = pane.Stop{Name: s.Step.String(), Mark: stopMarks[s.Mark], Share: share}
	}
	r.line.Put(stops)
}

// The numbers of the cards and the names of the sheets that steps are about; a step with neither has a page of its own.
var (
	stepCards  = map[route.Step]int{route.Scan: 2, route.Size: 1, route.Mend: 2, route.Stand: 3, route.Board: 4, route.Wall: 5, route.Look: 6, route.Reach: 9, route.Panels: 8, route.Glue: 10}
	stepSheets = map[route.Step]string{route.Panels: panelsName, route.Glue: "Glue-up"}
)

// leadTo leads to what a step is about: on with what was called off, to its sheet, and to its card.
func (r *router) leadTo(step route.Step) {
	s := route.Of(r.bench)[step]
	r.trace.line("what=step name=%q mark=%d", step, s.Mark)
	switch {
	case s.Mark == route.LeftOff:
		r.run("go on")
		r.Hint(step.String() + ": it goes on.")
		return
	case step == route.Size && route.Guesses(r.bench):
		r.askUnit()
		return
	case step == route.Book:
		r.run("make")
		return
	}
	if sheet, ok := stepSheets[step]; ok {
		r.front(sheet)
	}
	for _, c := range r.cards.all {
		if c.Number == stepCards[step] {
			r.cards.show(c)
		}
	}
	r.Hint(step.String() + ": " + s.Words)
}

// fileUnits are the units that a file is likely to be in.
var fileUnits = []struct {
	word, name string
	mm         float64
}{{"mm", "millimetres", 1}, {"cm", "centimetres", 10}, {"in", "inches", 25.4}, {"m", "metres", 1000}}

// askUnit asks in which unit the file of the piece is.
func (r *router) askUnit() {
	b := r.bench
	size := b.Model.Piece.Mesh.Box().Size()
	long := max(size.X, size.Y, size.Z)
	var text strings.Builder
	text.WriteString("The file doesn't say in which unit it is. Its longest side is " + unit.Number(long, 3) + " of them. In which unit is it?")
	words, do := []string{}, []func(){}
	for i, u := range fileUnits {
		fmt.Fprintf(&text, map[bool]string{true: " In %s the piece would be %s long", false: ", in %s %s"}[i == 0], u.name, unit.Length(long*u.mm, b.View.Units))
		words = append(words, u.word)
		do = append(do, func() {
			r.Do("unit of the file", func(s job.Settings) job.Settings { s.Scale = u.mm; return s })
			r.Rest()
			r.unitSaid()
		})
	}
	words = append(words, "By its height…")
	do = append(do, func() {
		for _, c := range r.cards.all {
			if c.Number == stepCards[route.Size] {
				r.cards.show(c)
				c.TakeKeysFor("height", r.win.Canvas())
			}
		}
		r.Hint("Type the height on the Piece card, or measure between two points.")
	})
	r.ask("How large is the piece?", text.String()+".", 210, words, do...)
}

// unitSaid remembers that the maker has said the unit, also where it is the one that was taken for granted.
func (r *router) unitSaid() {
	r.bench.Selected.Unit = true
	r.changed()
}
