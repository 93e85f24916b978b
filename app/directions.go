package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/card"
	"grainstack/app/picture"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// directions are what the maker does with directions of the stack, on their map and on their card.
type directions struct {
	*core
	on    *views
	tasks *tasks
}

// comparingDirections reports whether directions are being compared.
func (d *directions) comparingDirections() bool { return d.bench.Tasks.Compass.State == task.Working }

// compareDirections begins to look at directions; a second time it leaves that.
func (d *directions) compareDirections() {
	switch {
	case d.comparingDirections():
		d.tasks.compass.Drop()
	case d.bench.Model == nil:
		return
	default:
		work.Compare(d.bench, d.tasks.compass)
		d.front("Directions")
	}
	d.changed()
}

// directionsCame takes what has been found so far, directionsFound all of it.
func (d *directions) directionsCame(_ work.CompassAsk, m *compass.Map) { d.bench.Compass.Found = m }

func (d *directions) directionsFound(_ work.CompassAsk, m *compass.Map, err error) {
	if err != nil {
		d.Hint(d.bench.Compass.Fault())
		return
	}
	d.bench.Compass.Found = m
	d.trace.line("what=directions bearings=%d moved_mm=%.3f", len(m.Bearings), m.Moved)
}

// weigh changes how much a measure counts.
func (d *directions) weigh(of compass.Measure, weight float64) {
	if d.bench.Compass.Weights[of] != weight {
		d.bench.Compass.Weights[of] = weight
		d.changed()
	}
}

// measured chooses the measure that the map shows.
func (d *directions) measured(of compass.Measure) {
	if d.bench.Compass.Measure != of {
		d.bench.Compass.Measure = of
		d.changed()
	}
}

// takeBearing makes a bearing the stand.
func (d *directions) takeBearing(b *compass.Bearing) {
	d.bench.Compass.Pointed = nil
	d.Do("take a direction", func(s job.Settings) job.Settings {
		s.Turn = geom.TurnXYZ(b.Turn.Degrees()) // free of rounding, as when it is turned by hand
		return s
	})
	d.Rest()
	d.trace.line("what=taken rev=%d up=%.4f,%.4f,%.4f", d.bench.Revision(), b.Up.X, b.Up.Y, b.Up.Z)
	d.changed()
}

// takeBest makes the best bearing the stand.
func (d *directions) takeBest() {
	if b, ok := d.bench.Compass.Best(); ok {
		d.takeBearing(b)
	}
}

func (d *directions) clickCompass(at fyne.Position) {
	if b, ok := d.on.compass.BearingAt(d.bench, at); ok {
		d.takeBearing(b)
	}
}

// pointCompass shows the piece as it would stand with the direction under the pointer.
func (d *directions) pointCompass(at fyne.Position, here bool) {
	b, ok := d.on.compass.BearingAt(d.bench, at)
	if !here || !ok {
		b = nil
	}
	switch {
	case b != nil:
		d.Hint("A click takes this stand: " + picture.Lean(b.Up))
	case here && d.bench.Compass.Directions() != nil:
		d.Hint("Move over the disc: the piece follows · a click takes the stand")
	default:
		d.Hint("")
	}
	was := d.bench.Compass.Pointed
	if was == b || was != nil && b != nil && was.Turn == b.Turn {
		return
	}
	d.bench.Compass.Pointed = b
	d.changed()
}

// compassState is what the card shows.
func (d *directions) compassState() card.CompassState {
	at, k := d.bench.Tasks.Compass, &d.bench.Compass
	c := card.CompassState{Busy: d.comparingDirections(), Share: max(0, at.Share), Fault: d.bench.Compass.Fault(), Weights: k.Weights, Stale: d.bench.Compass.Stale()}
	if b, ok := d.bench.Compass.Best(); ok {
		c.Found = len(k.Found.Bearings)
		c.Best = picture.Bearing(b, d.bench.View.Units)
		c.Lean = picture.Lean(b.Up)
		c.Moved = k.Found.Moved
	}
	return c
}

// traceSpots logs where the best bearings are on the screen.
func (d *directions) traceSpots(a view.CompassAsk) {
	if d.trace == nil || a.Found == nil || a.Stale || a.Message != "" || d.comparingDirections() {
		return
	}
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(d.on.compass.Picture)
	for i, k := range a.Found.Peaks(a.Weights, 4, 2*compass.Spacing(a.Found.Even)) {
		at := d.on.compass.Now.Out.Spot(a.Found.Bearings[k].Up)
		d.trace.line("what=spot name=\"%d\" at=%.0f,%.0f size=1,1", i+1, float64(base.X)+at.X, float64(base.Y)+at.Y)
	}
}
