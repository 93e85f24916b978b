package app

import (
	"context"
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
)

// A compassPane is the map of directions.
type compassPane struct {
	*pane.Picture
	caption *paper.Words
	facts   *widget.Label
	begin   *widget.Button
	choice  *paper.Select
	whole   fyne.CanvasObject

	frame   *frame.Frame
	drawn   sheet.CompassSheet
	pending func()
}

// A compassAsk asks for a picture of the map.
type compassAsk struct {
	asking
	found   *compass.Map
	measure compass.Measure
	weights compass.Weights
	now     geom.Vec // the present stack axis in the piece's frame
	pointed geom.Vec
	message string
	stale   bool // of other settings
	style   sheet.Style
	size    image.Point
	scale   float64
}

// A compassOut is that picture.
type compassOut struct {
	frame *frame.Frame
	sheet sheet.CompassSheet
}

func (w *window) newCompass() *compassPane {
	c := &compassPane{caption: paper.Write("", paper.Small, paper.Pencil).Cut(), facts: paper.Sentence(paper.Pencil)}
	c.Picture = pane.NewPicture("directions", fyne.NewSize(170, 120), pane.Gestures{
		Clicked: w.clickCompass,
		Turned:  func(float32, float32) {},
		Key:     w.key, Rune: w.sign,
		Sized: func() {
			if w.folder.shows(c.Picture) {
				w.askCompass()
			}
		},
		Painted: func() { done(&c.pending) },
		Pointed: w.pointCompass,
	})
	c.begin = widget.NewButton("Compare", w.compareDirections)
	c.begin.Importance = widget.LowImportance
	var names []string
	for m := range compass.Measures {
		names = append(names, m.Words())
	}
	c.choice = paper.NewSelect(names, func(name string) {
		for m := range compass.Measures {
			if m.Words() == name {
				w.measured(m)
			}
		}
	})
	c.choice.Selected = w.steering.measure.Words()
	row := container.NewBorder(nil, nil, nil, c.begin, c.choice)
	foot := container.New(layout.NewCustomPaddedLayout(0, 4, 2, 2), container.NewVBox(c.facts, row))
	c.whole = captioned(c.caption, c.Picture, foot)
	return c
}

// bearingAt is the bearing nearest to a place on the map; ok is false beside the disc.
func (w *window) bearingAt(at fyne.Position) (*compass.Bearing, bool) {
	d, ok := w.compass.drawn.DirectionAt(float64(at.X), float64(at.Y))
	m := w.directions()
	if !ok || m == nil {
		return nil, false
	}
	i, ok := m.Nearest(d)
	if !ok {
		return nil, false
	}
	return &m.Bearings[i], true
}

// pointCompass shows the piece as it would stand with the direction under the pointer.
func (w *window) pointCompass(at fyne.Position, here bool) {
	b, ok := w.bearingAt(at)
	if !here || !ok {
		b = nil
	}
	switch {
	case b != nil:
		w.margin.hint("A click takes this stand: " + picture.Lean(b.Up))
	case here && w.directions() != nil:
		w.margin.hint("Move over the disc: the piece follows · a click takes the stand")
	default:
		w.margin.hint("")
	}
	was := w.steering.pointed
	if was == b || was != nil && b != nil && was.Turn == b.Turn {
		return
	}
	w.steering.pointed = b
	if (was == nil) != (b == nil) {
		w.showCaptions(w.state())
	}
	w.asked = w.now()
	w.askLook()
	w.askCompass()
}

func (w *window) clickCompass(at fyne.Position) {
	if b, ok := w.bearingAt(at); ok {
		w.takeBearing(b)
	}
}

// askCompass asks for the map and reports whether one will come.
func (w *window) askCompass() bool {
	size := w.compass.Pixels()
	if w.model == nil || size.X < 2 || size.Y < 2 {
		return false
	}
	s := &w.steering
	a := compassAsk{asking: w.asked, found: w.directions(), measure: s.measure, weights: s.weights, style: w.style(), size: size, scale: w.compass.Scale(),
		now: w.session.Settings().Turn.Inverse().Apply(geom.Vec{Z: 1}), stale: s.of != w.steerKey()}
	if s.pointed != nil {
		a.pointed = s.pointed.Axis()
	}
	switch {
	case s.fault != "":
		a.message = s.fault
	case a.found == nil && s.busy:
		a.message = "Directions are being compared …"
	case a.found == nil:
		a.message = "Which way shall the stack run? Press Compare: each direction is worked out, and the map shows what it comes to."
	}
	w.loops.disc.Ask(a)
	return true
}

// A compassDrafter draws the map, and keeps the measure's field while only the marks move.
type compassDrafter struct {
	*drafter
	of      *compass.Map
	measure compass.Measure
	units   int
	view    sheet.CompassView
	weights compass.Weights
}

func (w workers) compassDrafter() *compassDrafter { return &compassDrafter{drafter: w.drafter()} }

// draw is the worker of the loop.
func (d *compassDrafter) draw(_ context.Context, a compassAsk) (compassOut, error) {
	view := sheet.CompassView{Message: a.message}
	if a.message == "" {
		if d.of != a.found || d.measure != a.measure || d.units != int(a.style.Units) || d.weights != a.weights {
			d.of, d.measure, d.units, d.weights = a.found, a.measure, int(a.style.Units), a.weights
			d.view = picture.Compass(a.found, a.measure, a.weights, a.style.Units)
			d.view.Field = sheet.CompassField(d.view)
		}
		view = d.view
		view.Now, view.Pointed = a.now, a.pointed
	}
	out := compassOut{sheet: sheet.Compass(view, a.style, float64(a.size.X)/a.scale, float64(a.size.Y)/a.scale)}
	out.frame = d.pool.Get(a.size)
	d.raster.Draw(out.frame.Image, out.sheet.Drawing, a.scale)
	if a.stale && a.message == "" {
		pale(out.frame.Image, a.style.Ink.Paper)
	}
	return out, nil
}

// compassDrawn takes a picture of the map.
func (w *window) compassDrawn(a compassAsk, out compassOut, err error) {
	if err != nil {
		w.failed(err)
		return
	}
	c := w.compass
	last := c.frame
	c.frame, c.drawn = out.frame, out.sheet
	c.Put(out.frame.Image)
	last.Release()
	w.showCompass()
	w.pay()
	c.pending = func() {
		n := 0
		if a.found != nil {
			n = len(a.found.Bearings)
		}
		w.trace.shown("compass", a.asking, nil, fmt.Sprintf("bearings=%d busy=%v stale=%v pointed=%v", n, w.steering.busy, a.stale, a.pointed != geom.Vec{}))
		w.traceSpots(a)
	}
}

// showCompass writes what stands round the map.
func (w *window) showCompass() {
	c, s := w.compass, &w.steering
	caption, facts := "Directions of the stack", ""
	if m := w.directions(); m != nil {
		caption = picture.CompassTitle(s.measure, w.session.View.Units)
		if s.of != w.steerKey() {
			caption += " · of older settings"
		}
		b := s.pointed
		name := ""
		if b == nil {
			b, _ = w.bestBearing()
			name = fmt.Sprintf("best of %d: ", len(m.Bearings))
		}
		if b != nil {
			lines := picture.Bearing(b, w.session.View.Units)
			facts = phrase.Capital(name+picture.Lean(b.Up)) + "\n" + strings.Join(lines[:], "\n")
		}
	}
	c.caption.Say(caption)
	if c.facts.Text != facts {
		c.facts.SetText(facts)
	}
	word := "Compare"
	switch {
	case s.busy:
		word = "Cancel"
	case w.directions() != nil:
		word = "Compare again"
	}
	if c.begin.Text != word {
		c.begin.SetText(word)
	}
}

// traceSpots logs where the best bearings are on the screen.
func (w *window) traceSpots(a compassAsk) {
	if w.trace == nil || a.found == nil || a.stale || a.message != "" || w.steering.busy {
		return
	}
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.compass.Picture)
	for i, k := range a.found.Peaks(a.weights, 4, 2*compass.Spacing(a.found.Even)) {
		at := w.compass.drawn.Spot(a.found.Bearings[k].Up)
		w.trace.line("what=spot name=\"%d\" at=%.0f,%.0f size=1,1", i+1, float64(base.X)+at.X, float64(base.Y)+at.Y)
	}
}
