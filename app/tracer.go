package app

import (
	"fmt"
	"io"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/app/state"
	"grainstack/slicing/job"
)

// A tracer logs shown frames, one line each. A nil tracer logs nothing.
type tracer struct {
	to    io.Writer
	later func() // logs where everything is, once it is laid out
}

// placesLater logs where everything is in the window, once it is laid out. It may be called from any goroutine.
func (t *tracer) placesLater() {
	if t != nil {
		t.later()
	}
}

// shown logs that what was asked for is on the screen now.
func (t *tracer) shown(what string, a state.Asking, f *job.Figures, more string) {
	if t == nil {
		return
	}
	now := time.Now()
	line := fmt.Sprintf("trace what=%s rev=%d asked=%.3f shown=%.3f latency_ms=%.1f", what, a.Rev, seconds(a.When), seconds(now), now.Sub(a.When).Seconds()*1000)
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

// placeOf logs where something is in the window, so that it can be reached from outside.
func (t *tracer) placeOf(what, name string, o fyne.CanvasObject) {
	if t == nil {
		return
	}
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	fmt.Fprintf(t.to, "trace what=%s name=%q at=%.0f,%.0f size=%.0f,%.0f\n", what, name, at.X, at.Y, size.Width, size.Height)
}

func seconds(t time.Time) float64 { return float64(t.UnixMicro()) / 1e6 }
