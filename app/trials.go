package app

import (
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/task"
	"grainstack/app/ticket"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// trials are what the maker does with trials: in the strip, and with them side by side in the place of the panes.
type trials struct {
	*core
	on     *views
	strip  *ticket.Strip
	ticket *ticket.Ticket
	panes  fyne.CanvasObject // what the comparison takes the place of
}

// tried takes what came of the work on a trial.
func (r *trials) tried(a work.TrialAsk, out work.TrialOut, err error) {
	if r.bench.Model != nil && a.Key.Scan == r.bench.Model.Piece.Scan {
		work.TrialDone(r.bench, a, out, err)
		r.traceTrials()
	}
}

// status is how far the work on a trial is, "" where there is none.
func (r *trials) status() string {
	at := r.bench.Tasks.Try
	if at.State != task.Working || !at.Told {
		return ""
	}
	name := "The bench"
	for _, one := range r.bench.Trials() {
		if one.Settings == at.Key.Key.Settings {
			name = one.Name
		}
	}
	return fmt.Sprintf("%s: %s … %.0f %% · Escape leaves it", name, at.Step, 100*at.Share)
}

// toggleComparison sets trials side by side in the place of the panes, or leads back.
func (r *trials) toggleComparison() {
	if r.leaveComparison() {
		return
	}
	r.bench.Screen.Comparing = true
	r.panes.Hide()
	r.on.comparing.Open()
	r.win.Content().Refresh()
	r.on.comparing.Focus()
	r.changed()
	r.trace.line("what=comparison open=true")
}

// leaveComparison leads back to the bench; it reports whether there was anything to leave.
func (r *trials) leaveComparison() bool {
	if !r.bench.Screen.Comparing {
		return false
	}
	r.bench.Screen.Comparing = false
	r.on.comparing.Close()
	r.panes.Show()
	r.win.Content().Refresh()
	r.on.look.Focus()
	r.changed()
	r.trace.line("what=comparison open=false")
	return true
}

// clickBeside chooses the trial under the pointer.
func (r *trials) clickBeside(at fyne.Position) {
	i, ok := r.on.comparing.Now.Out.ColumnAt(float64(at.X), float64(at.Y))
	if all := view.Columns(r.bench); ok && i < len(all) {
		for k, one := range r.bench.Trials() {
			if one.Settings == all[i].For {
				r.chooseTrial(k)
				return
			}
		}
	}
}

// differences are a ticket's differences from another in some quantities, as a line.
func differences(t, from trial.Ticket, in []trial.Quantity, u unit.System) string {
	all := t.Against(from)
	var words []string
	for _, q := range in {
		for _, d := range all {
			if d.Quantity != q {
				continue
			}
			if text := d.Text(u); text != "" {
				text = named(q, text)
				if d.Estimate {
					text = "≈ " + text
				}
				words = append(words, text)
			}
		}
	}
	return strings.Join(words, " · ")
}

// traceTrials logs what is known of the trials.
func (r *trials) traceTrials() {
	tickets, deep, drawn := 0, 0, 0
	var names []string
	for _, one := range r.bench.Trials() {
		t, have := r.bench.Tried.Tickets[r.bench.Tried.Key(one.Settings)]
		tickets += count(have)
		deep += count(t.Deep)
		drawn += count(r.bench.Tried.Pictures[one.Settings].Img != nil)
		names = append(names, one.Name)
	}
	r.trace.line("what=trials n=%d tickets=%d deep=%d drawn=%d names=%q", len(names), tickets, deep, drawn, strings.Join(names, "|"))
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}

// trialPixels is how large the small picture of a trial is.
func (r *trials) trialPixels() image.Point {
	k := float32(1)
	if c := r.win.Canvas(); c != nil && c.Scale() > 0 {
		k = c.Scale()
	}
	return image.Pt(int(ticket.TrialPictureW*k), int(ticket.TrialPictureH*k))
}
