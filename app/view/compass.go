package view

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A CompassAsk asks for a picture of the map of directions; it is its own key.
type CompassAsk struct {
	paperAsk
	Found   *compass.Map
	measure compass.Measure
	Weights compass.Weights
	now     geom.Vec // the present stack axis in the piece's frame
	Pointed geom.Vec
	Message string
	Stale   bool // of other settings
}

// A Compass is the map of directions.
type Compass struct {
	*View[CompassAsk, CompassAsk, sheet.CompassSheet]
	Begin   *paper.Button
	caption *paper.Told
	facts   *paper.Lines
	letters *draw.Letters
}

// NewCompass is the map in a pane with gestures; compare begins to compare directions and chosen takes another measure.
func NewCompass(d Desk, letters *draw.Letters, g pane.Gestures, first compass.Measure, compare func(), chosen func(compass.Measure)) *Compass {
	c := &Compass{caption: newCaption(), facts: paper.NewLines(6), letters: letters}
	p := pane.NewPicture("directions", fyne.NewSize(170, 120), g)
	drawer := func() Draw[CompassAsk, sheet.CompassSheet] {
		return (&compassDrafter{drafter: newDrafter(letters)}).draw
	}
	c.View = newView[CompassAsk](d, p, drawer, nil)
	c.Begin = paper.NewButton("Compare", compare)
	c.Begin.Importance = widget.LowImportance
	var names []string
	for m := range compass.Measures {
		names = append(names, m.Words())
	}
	choice := paper.NewSelect(names, func(name string) {
		for m := range compass.Measures {
			if m.Words() == name {
				chosen(m)
			}
		}
	})
	choice.Selected = first.Words()
	c.Whole = captioned(c.caption, c.Picture, footed(container.NewVBox(c.facts, container.NewBorder(nil, nil, nil, c.Begin, choice))))
	return c
}

// A ShownCompass is what is on the screen.
type ShownCompass = Shown[CompassAsk, sheet.CompassSheet]

// Ask asks for the map as everything is now.
func (c *Compass) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, c.letters, c.Picture)
	if !ok || b.Model == nil {
		return false
	}
	k := &b.Compass
	a := CompassAsk{paperAsk: on, Found: b.Compass.Directions(), measure: k.Measure, Weights: k.Weights, Stale: b.Compass.Stale(),
		now: b.Settings().Turn.Inverse().Apply(geom.Vec{Z: 1}), Message: noDirections(b)}
	if k.Pointed != nil {
		a.Pointed = k.Pointed.Axis()
	}
	return c.want(now, a, a, false)
}

// A compassDrafter draws the map, and keeps the measure's field while only the marks move.
type compassDrafter struct {
	*drafter
	of      *compass.Map
	measure compass.Measure
	units   unit.System
	view    sheet.CompassView
	weights compass.Weights
}

func (d *compassDrafter) draw(_ context.Context, a CompassAsk) (*frame.Frame, sheet.CompassSheet, error) {
	view := sheet.CompassView{Message: a.Message}
	if a.Message == "" {
		if d.of != a.Found || d.measure != a.measure || d.units != a.style.Units || d.weights != a.Weights {
			d.of, d.measure, d.units, d.weights = a.Found, a.measure, a.style.Units, a.Weights
			d.view = picture.Compass(a.Found, a.measure, a.Weights, a.style.Units)
			d.view.Field = sheet.CompassField(d.view)
		}
		view = d.view
		view.Now, view.Pointed = a.now, a.Pointed
	}
	width, height := a.extent()
	out := sheet.Compass(view, a.style, width, height)
	f := d.frameOf(a.paperAsk, out.Drawing)
	if a.Stale && a.Message == "" {
		pale(f.Image, a.style.Ink.Paper)
	}
	return f, out, nil
}

// BearingAt is the bearing nearest to a place on the map; ok is false beside the disc.
func (c *Compass) BearingAt(b *state.Bench, at fyne.Position) (*compass.Bearing, bool) {
	d, ok := c.Now.Out.DirectionAt(float64(at.X), float64(at.Y))
	m := b.Compass.Directions()
	if !ok || m == nil {
		return nil, false
	}
	i, ok := m.Nearest(d)
	if !ok {
		return nil, false
	}
	return &m.Bearings[i], true
}

// Write writes what stands round the map.
func (c *Compass) Write(b *state.Bench) {
	caption, facts, word := "Directions of the stack", "", "Compare"
	if m := b.Compass.Directions(); m != nil {
		word = "Compare again"
		caption = picture.CompassTitle(b.Compass.Measure, b.View.Units)
		if b.Compass.Stale() {
			caption += " · of older settings"
		}
		one, name := b.Compass.Pointed, ""
		if one == nil {
			one, _ = b.Compass.Best()
			name = fmt.Sprintf("best of %d: ", len(m.Bearings))
		}
		if one != nil {
			lines := picture.Bearing(one, b.View.Units)
			facts = phrase.Capital(name+picture.Lean(one.Up)) + "\n" + strings.Join(lines[:], "\n")
		}
	}
	if b.Tasks.Compass.State == task.Working {
		word = "Call it off"
	}
	c.caption.Say(caption)
	c.facts.Say(facts)
	if c.Begin.Text != word {
		c.Begin.SetText(word)
	}
}

// noDirections says why there is no map of directions, "" where there is one.
func noDirections(b *state.Bench) string {
	switch {
	case b.Compass.Fault() != "":
		return b.Compass.Fault()
	case b.Compass.Directions() != nil:
		return ""
	case b.Tasks.Compass.State == task.Working:
		return "Directions are being compared …"
	}
	return "Which way shall the stack run? Press Compare: each direction is worked out, and the map shows what it comes to."
}
