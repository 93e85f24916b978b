package app

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"grainstack/app/card"
	"grainstack/app/session"
	"grainstack/app/task"
	"grainstack/slicing/carve"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A reaching is what the window knows of the cutters' reach.
type reaching struct {
	last    *job.Reached // the newest, maybe of older settings
	of      *job.Piece   // that it is of
	ways    []job.WayOut
	waysFor job.Settings
	seeking bool
	sought  bool
	records []hours.Record
	path    string // where records are kept, "" for nowhere
}

// A reachAsk asks for the reach of settled figures.
type reachAsk struct {
	asking
	standing *job.Standing
	figures  *job.Figures // as Settle gave them
	reached  *job.Reached // for ways out
}

// reachAfter is how long the settings have to rest before the cutters are followed: that keeps both cores busy.
const reachAfter = 500 * time.Millisecond

// followCutters is the worker of the reach loop.
func (w *window) followCutters(ctx context.Context, a reachAsk) (*job.Reached, error) {
	if err := rest(ctx, reachAfter); err != nil {
		return nil, err
	}
	tell := w.progress(ctx, "following the cutters")
	return job.Reach(ctx, a.standing, a.figures, a.stock, 0, func(done float64) { tell("", done) })
}

// recall reads the minutes that were kept in a folder; without one they are kept for the sitting only.
func (r *reaching) recall(dir string) {
	if dir == "" {
		return
	}
	r.path = filepath.Join(dir, "minutes.json")
	all, err := job.LoadRecords(r.path)
	if err != nil {
		r.path = "" // what can't be read is not written over
		return
	}
	r.records = all
}

// reachKey is all that the cutters' reach depends on.
type reachKey struct {
	standing *job.Standing
	settings job.Settings
	stock    *stock.Catalogue
}

func (w *window) reachKey() reachKey {
	return reachKey{w.standing, w.session.Settings(), w.shelf.now}
}

// leaveReach lets go of what hangs on settings that have changed.
func (w *window) leaveReach() {
	if w.loops.reach.StateOf(w.reachKey()) == task.Idle {
		w.loops.reach.Drop()
	}
	w.leaveWays()
	w.calm()
}

// leaveWays ends the looking for ways out.
func (w *window) leaveWays() {
	w.loops.ways.Drop()
	w.reaching.seeking = false
}

// askReach asks for the reach of settled figures.
func (w *window) askReach(a figureAsk, f *job.Figures) {
	if r := w.reaching.last; r != nil && r.For.CarvesLike(f.For) && w.reaching.of == a.standing.Piece {
		w.askWorkshop()
		return
	}
	w.loops.reach.Want(w.reachKey(), reachAsk{asking: a.asking, standing: a.standing, figures: f})
	if w.loops.reach.State() == task.Failed {
		w.askWorkshop()
	}
}

// reachedNow takes what the cutters reach.
func (w *window) reachedNow(a reachAsk, r *job.Reached, err error) {
	w.calm()
	if err != nil {
		w.margin.hint("The cutters' reach is not known: " + err.Error())
		w.askWorkshop()
		return
	}
	w.reaching.last, w.reaching.of = r, a.standing.Piece
	w.trace.line("what=reach trapped_cm3=%.3f core_cm3=%.3f router_min=%.1f off=%.4f cautions=%d", r.Trapped/1000, r.TrappedCore/1000, r.RouterMin(), r.Off(), len(r.Cautions))
	w.traceUndercuts(a.standing, r)
	if a.standing != w.standing || !r.For.CarvesLike(w.session.Settings()) || w.figures == nil || !w.figures.Settled {
		return
	}
	w.figures = w.dressed(a.figures)
	w.asked = a.asking
	if a.figures.For == w.session.Settings() {
		w.asked.rev = w.session.Revision() // a later step may have led to the same settings
	}
	w.askWorkshop()
	w.askSheet()
	w.askStick()
	if w.session.View.Marks {
		w.askLook()
	}
	w.showAll()
}

// traceUndercuts logs what is named: every undercut with its place in the piece's own frame, and the sentences.
func (w *window) traceUndercuts(st *job.Standing, r *job.Reached) {
	if w.trace == nil {
		return
	}
	for _, f := range r.Findings {
		if f.Kind == carve.TrappedAir {
			p := st.Placed.Placement.Back(f.At)
			w.trace.line("what=undercut rev=%d layer=%d own=%.2f,%.2f,%.2f mm3=%.1f", w.session.Revision(), f.Layer, p.X, p.Y, p.Z, f.Size)
		}
	}
	for _, c := range r.Cautions {
		w.trace.line("what=caution layer=%d text=%q", c.Layer, c.Text)
	}
	w.trace.line("what=named cautions=%d", len(r.Cautions))
}

// dressed are figures with what is known of the cutters and of the machine: simulated minutes where they are of the same
// settings, else an estimate tied to the newest simulation of the same piece.
func (w *window) dressed(f *job.Figures) *job.Figures {
	if f == nil || f.Withheld != "" {
		return f
	}
	r := w.reaching.last
	if r != nil && (w.standing == nil || w.reaching.of != w.standing.Piece) {
		r = nil
	}
	return f.TiedTo(r).Learned(hours.Learn(w.reaching.records, f.For.Machine))
}

// seek looks for ways out of what can't be reached.
func (w *window) seek() {
	s := w.carvingState()
	if s.Reached == nil || w.reaching.seeking {
		return
	}
	w.reaching.seeking, w.reaching.sought = true, false
	w.margin.work("looking for ways out", -1)
	w.loops.ways.Ask(reachAsk{asking: w.now(), standing: w.standing, figures: w.figures, reached: s.Reached})
	w.showCards()
}

func (w *window) seekWays(ctx context.Context, a reachAsk) ([]job.WayOut, error) {
	return job.WaysOut(ctx, a.standing, a.figures, a.reached, a.stock)
}

func (w *window) waysFound(a reachAsk, ways []job.WayOut, err error) {
	w.reaching.seeking = false
	w.calm()
	if err == nil {
		w.reaching.ways, w.reaching.waysFor, w.reaching.sought = ways, a.figures.For, true
	} else if !errors.Is(err, context.Canceled) {
		w.margin.hint("No way out could be looked for: " + err.Error())
	}
	w.showCards()
	for _, o := range w.reaching.ways {
		w.trace.line("what=way frees=%d trapped_cm3=%.3f text=%q", o.Frees, o.Trapped/1000, o.Text)
	}
	w.trace.line("what=ways ways=%d", len(w.reaching.ways))
	if w.trace != nil { // the card is laid out anew with the next frames
		time.AfterFunc(progressEvery, func() { w.post(w.tracePlaces) })
	}
}

// take takes a way out; it is undone like any other step.
func (w *window) take(o job.WayOut) {
	w.Do("way out", func(job.Settings) job.Settings { return o.Settings })
	w.Rest()
}

// took keeps the minutes that a side really took and uses them from now on.
func (w *window) took(layer int, down bool, minutes float64) {
	f := w.figures
	if f == nil || w.stale() || layer < 1 || layer > len(f.Layers) {
		w.margin.hint("Wait until the hours are known, then type it again.")
		return
	}
	m := f.Layers[layer-1].Minutes
	reckoned := m.RoughTop + m.FineTop
	if down {
		reckoned = m.RoughBottom + m.FineBottom
	}
	if k := f.Factor; k.Known() && k.Times > 0 {
		reckoned /= k.Times
	}
	w.reaching.records = append(w.reaching.records[:len(w.reaching.records):len(w.reaching.records)],
		hours.Record{Machine: f.For.Machine, Layer: layer, Down: down, Reckoned: reckoned, Took: minutes})
	if w.reaching.path != "" {
		if err := job.SaveRecords(w.reaching.path, w.reaching.records); err != nil {
			w.margin.hint(err.Error())
		}
	}
	w.margin.hint(fmt.Sprintf("Layer %d: %.0f min kept. From now on it counts in every hour shown.", layer, minutes))
	w.refigure()
}

// carvingState is what the carving card shows.
func (w *window) carvingState() card.CarvingState {
	r := w.reaching
	s := card.CarvingState{Seeking: r.seeking, Factor: hours.Learn(r.records, w.session.Settings().Machine)}
	if r.last != nil && r.last.For.CarvesLike(w.session.Settings()) && w.stands() && r.of == w.standing.Piece {
		s.Reached = r.last
	}
	if r.sought && r.waysFor == w.session.Settings() {
		s.Ways, s.Sought = r.ways, true
	}
	return s
}

// showPlace turns the view's mind to a caution: its layer is picked, and the places that need a look are ringed.
func (w *window) showPlace(layer int) {
	w.pick(layer)
	if !w.session.View.Marks {
		w.Look(func(v *session.View) { v.Marks = true })
	}
}
