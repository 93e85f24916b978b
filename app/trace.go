package app

import (
	"fmt"
	"math"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/app/pane"
	"grainstack/app/view"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// traceMended logs what the piece is now.
func (w *window) traceMended() {
	p, s := w.bench.Model.Piece, w.bench.Settings()
	w.trace.line("what=piece rev=%d facets=%d solid=%v volume_cm3=%.3f actions=%d rebuilt=%v sawn=%v", w.bench.Revision(), p.Findings.Triangles,
		p.Solid(), p.Findings.Volume*s.Scale*s.Scale*s.Scale/1000, len(p.Mended.Actions), p.Mended.Rebuilt, w.bench.Model.Key.How.Saw.On)
}

// traceChalk logs what settled figures say of the marks.
func (w *window) traceChalk(f *job.Figures) {
	if len(f.For.Chalk.Strokes()) == 0 {
		return
	}
	crossings := 0
	for _, k := range f.Kept {
		crossings += len(k.Crossings)
	}
	w.trace.line("what=chalk rev=%d strokes=%d kept=%d crossings=%d better_mm=%.1f first_mm=%.1f", w.bench.Revision(), len(f.For.Chalk.Strokes()), len(f.Kept), crossings, f.BetterJoint.At, f.For.FirstJoint)
	if crossings > 0 { // the card is laid out anew with the next frames
		time.AfterFunc(shownBy, w.trace.placesLater)
	}
}

// traceParts logs where the parts on the panel sheet are in the window, and the panel itself.
func (w *window) traceParts(a view.ShopAsk) {
	if w.trace == nil || a.Kind != view.PanelSheet || a.Hold.What != edit.Nothing || a.Message != "" || a.Stale {
		return
	}
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.panels.Picture)
	log := func(what, name string, b geom.Box2) {
		p, q := w.panels.Now.Out.Panel.ToSheet(b.Min), w.panels.Now.Out.Panel.ToSheet(b.Max)
		w.trace.line("what=%s name=%q at=%.0f,%.0f size=%.0f,%.0f", what, name, float64(base.X)+min(p.X, q.X), float64(base.Y)+min(p.Y, q.Y), math.Abs(q.X-p.X), math.Abs(q.Y-p.Y))
	}
	for _, q := range edit.PlacedOn(a.Shop, a.At) {
		log("part", q.Part.String(), a.Shop.Bench.Outline(q).Box())
	}
	log("board", fmt.Sprint(a.At), geom.Box2{Max: geom.Vec2{X: a.Shop.For.PanelX, Y: a.Shop.For.PanelY}})
}

// tracePlaces logs where the panes and the rules of open cards are.
func (w *window) tracePlaces() {
	for _, p := range []*pane.Picture{w.look.Picture, w.folder.inFront().pane, w.stick.Picture} {
		w.trace.placeOf("pane", p.Name, p)
	}
	w.folder.tracePlaces()
	if w.folder.inFront().view == drawer(w.compass) {
		w.trace.placeOf("button", w.compass.Begin.Text, w.compass.Begin)
	}
	if w.folder.inFront().view == drawer(w.programs) {
		for name, o := range w.programs.Places() {
			w.trace.placeOf("button", name, o)
		}
	}
	w.traceStrip()
	for _, c := range w.cards.all {
		for name, r := range c.Rules() {
			w.trace.placeOf("rule", name, r)
		}
		for name, o := range c.Places() {
			w.trace.placeOf("button", name, o)
		}
	}
}
