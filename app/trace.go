package app

import (
	"fmt"
	"io"
	"math"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// An asking is when and for which revision of the settings a picture was asked for.
type asking struct {
	rev   int
	when  time.Time
	stock *stock.Catalogue // to be worked with
}

// A tracer logs shown frames, one line each. A nil tracer logs nothing.
type tracer struct{ to io.Writer }

// shown logs that what was asked for is on the screen now.
func (t *tracer) shown(what string, a asking, f *job.Figures, more string) {
	if t == nil {
		return
	}
	now := time.Now()
	line := fmt.Sprintf("trace what=%s rev=%d asked=%.3f shown=%.3f latency_ms=%.1f", what, a.rev, seconds(a.when), seconds(now), now.Sub(a.when).Seconds()*1000)
	if f != nil {
		line += fmt.Sprintf(" layers=%d layer_mm=%.3f wall_mm=%.3f weight_kg=%.4f joint_cm2=%.1f router_min=%.1f core_known=%v settled=%v",
			len(f.Layers), f.Thickness, f.For.Wall, f.Totals.WeightKg, f.Totals.Joint/100, f.Totals.RouterMin(), f.CoreKnown, f.Settled)
	}
	if more != "" {
		line += " " + more
	}
	fmt.Fprintln(t.to, line)
}

// line logs anything else.
func (t *tracer) line(format string, args ...any) {
	if t != nil {
		fmt.Fprintf(t.to, "trace "+format+"\n", args...)
	}
}

// traceMended logs what the piece is now.
func (w *window) traceMended() {
	p := w.model.piece
	s := w.session.Settings()
	w.trace.line("what=piece rev=%d facets=%d solid=%v volume_cm3=%.3f actions=%d rebuilt=%v sawn=%v", w.session.Revision(), p.Findings.Triangles,
		p.Solid(), p.Findings.Volume*s.Scale*s.Scale*s.Scale/1000, len(p.Mended.Actions), p.Mended.Rebuilt, w.model.key.how.Saw.On)
}

// traceFound logs what the scan has.
func (w *window) traceFound() {
	w.trace.line("what=survey findings=%d crossings=%v", len(w.survey.List), w.survey.Crossings)
	if w.trace != nil {
		w.post(w.tracePlaces)
	}
}

// place logs where something is in the window, so that it can be reached from outside.
func (t *tracer) place(what, name string, o fyne.CanvasObject) {
	if t == nil {
		return
	}
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	fmt.Fprintf(t.to, "trace what=%s name=%q at=%.0f,%.0f size=%.0f,%.0f\n", what, name, at.X, at.Y, size.Width, size.Height)
}

// traceParts logs where the parts on the panel sheet are in the window, and the panel itself.
func (w *window) traceParts(a shopSheetAsk) {
	if w.trace == nil || a.kind != panelSheet || a.hold.what != nothing || a.message != "" || a.stale {
		return
	}
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.panels.Picture)
	log := func(what, name string, b geom.Box2) {
		p, q := w.panels.panel.ToSheet(b.Min), w.panels.panel.ToSheet(b.Max)
		w.trace.line("what=%s name=%q at=%.0f,%.0f size=%.0f,%.0f", what, name, float64(base.X)+min(p.X, q.X), float64(base.Y)+min(p.Y, q.Y), math.Abs(q.X-p.X), math.Abs(q.Y-p.Y))
	}
	for _, q := range placedOn(a.shop, a.at) {
		log("part", q.Part.String(), a.shop.Bench.Outline(q).Box())
	}
	log("board", fmt.Sprint(a.at), geom.Box2{Max: geom.Vec2{X: a.shop.For.PanelX, Y: a.shop.For.PanelY}})
}

func seconds(t time.Time) float64 { return float64(t.UnixMicro()) / 1e6 }
