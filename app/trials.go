package app

import (
	"context"
	"errors"
	"fmt"
	"image"
	"strings"
	"time"

	"grainstack/app/picture"
	"grainstack/app/task"
	"grainstack/app/ticket"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stock"
)

// trying is what the window knows of the trials. Their tickets and pictures are worked out from their settings, one after
// another, and are looked up by them.
type trying struct {
	chosen   job.Settings // of the trial that the ticket is set against; the zero value for none
	beside   map[job.Settings]bool
	folded   bool
	tickets  map[tryKey]job.Ticket
	pictures map[job.Settings]trialPicture
	bodies   []trialBody // of pieces that are mended otherwise than any that the window knows
	faults   map[doing]string
	raw      *job.Figures // the bench's newest, before what is known of cutters and machine was put in
	doing    doing        // what is in hand, zero for nothing
	status   string
	left     bool // the maker called the long work off: it waits until something changes
	version  int  // counts what has come, so that pictures of it can be told apart
}

// A tryKey is all that a ticket hangs on.
type tryKey struct {
	scan     *job.Scan
	settings job.Settings
	stock    *stock.Catalogue
}

// mostTickets bounds the tickets that are remembered, so that undo and redo show them at once.
const mostTickets = 96

// A trialPicture is the small picture of a trial.
type trialPicture struct {
	key pictureKey
	img *image.RGBA
}

// A pictureKey is what a small picture hangs on besides the trial's settings.
type pictureKey struct {
	body *look.Body // nil for one that only the trial's own piece has
	dark bool
	size image.Point
}

// A trialBody is a thinned piece that was mended as some trial wants it.
type trialBody struct {
	how  mend.Settings
	body *look.Body
	thin *mesh.Mesh
}

// mostBodies is how many bodies are kept beside those of the window: as many as can be seen side by side.
const mostBodies = mostBeside

// A chore is one kind of work on a trial.
type chore int

const (
	idle chore = iota
	reckoning
	drawing
	following // the cutters, and laying the panels: long
)

// doing tells one piece of work from another.
type doing struct {
	chore chore
	key   tryKey
	pic   pictureKey
}

type tryAsk struct {
	doing
	name    string
	piece   *job.Piece
	known   []job.Tried
	reached *job.Reached // the newest that the bench has, of whatever settings
	body    trialBody    // its body is nil where the piece has to be made for it
}

type tryOut struct {
	ticket job.Ticket
	frame  *frame.Frame
	body   trialBody
}

// A trier is the worker of the loop.
type trier struct {
	workers
	job.Trier
	r    *look.Renderer
	tell func(ctx context.Context, name string) func(string, float64)
}

// followAfter is how long the bench has to rest before the cutters of trials are followed: that keeps all cores busy.
const followAfter = 700 * time.Millisecond

func (t *trier) try(ctx context.Context, a tryAsk) (out tryOut, err error) {
	tell := t.tell(ctx, a.name)
	switch a.chore {
	case drawing:
		return t.picture(ctx, a, tell)
	case following:
		if err := rest(ctx, followAfter); err != nil {
			return out, err
		}
	}
	out.ticket, err = t.Ticket(ctx, a.piece, a.key.settings, a.key.stock, a.known, a.chore == following, a.reached, tell)
	return out, err
}

// picture draws the small picture of a trial as its own settings have it.
func (t *trier) picture(ctx context.Context, a tryAsk, tell func(string, float64)) (out tryOut, err error) {
	s := a.key.settings
	if err := s.Check(a.key.stock); err != nil {
		return out, err
	}
	if out.body = a.body; out.body.body == nil {
		tried, err := t.Piece(ctx, a.piece, s, a.known, tell)
		if err != nil {
			return out, err
		}
		thin := tried.Piece.Thin
		out.body = trialBody{s.Mending(), look.NewBody(thin), thin}
		if tried.Grid != nil {
			out.body.body = out.body.body.WithOpenness(tried.Grid.Openness(thin.Points, nil))
		}
	}
	place := picture.SetDown(out.body.thin, s.Stand())
	view, _ := picture.ViewOf(place, s, a.key.stock, nil, picture.Sight{Camera: firstCamera(), Size: a.pic.size})
	out.frame, err = t.r.Fine(ctx, out.body.body, view, picture.DressOf(s, a.key.stock, place.Height, a.pic.dark))
	return out, err
}

// trialProgress says in the strip how far the work on a trial is, not too often.
func (w *window) trialProgress(ctx context.Context, name string) func(string, float64) {
	var last time.Time
	return func(step string, done float64) {
		if time.Since(last) < progressEvery {
			return
		}
		last = time.Now()
		w.post(func() {
			if ctx.Err() == nil {
				w.trying.status = fmt.Sprintf("%s: %s … %.0f %% · Escape leaves it", name, step, 100*done)
				w.showStrip()
			}
		})
	}
}

// forgetTrials begins again with another piece's trials; the first few are shown side by side.
func (w *window) forgetTrials() {
	w.loops.try.Drop()
	w.trying = trying{
		beside: map[job.Settings]bool{}, tickets: map[tryKey]job.Ticket{}, pictures: map[job.Settings]trialPicture{}, faults: map[doing]string{},
		folded: w.trying.folded, version: w.trying.version + 1,
	}
	for i, t := range w.session.Trials() {
		if i < mostBeside-1 {
			w.trying.beside[t.Settings] = true
		}
	}
	w.leaveComparison()
}

// reckoned takes the bench's figures as they were worked out.
func (w *window) reckoned(f *job.Figures) {
	w.trying.raw, w.trying.left = f, false
	key := w.tryKey(f.For)
	if !f.Settled || !f.CoreKnown || w.beingMended() || w.model.key != mendKeyOf(w.model.piece, f.For) {
		return
	}
	if t, ok := w.trying.tickets[key]; !ok || !t.Deep {
		w.remind(key, job.NewTicket(f, w.shelf.now))
	}
}

// remind keeps a ticket.
func (w *window) remind(key tryKey, t job.Ticket) {
	k := &w.trying
	if len(k.tickets) >= mostTickets {
		wanted := map[tryKey]bool{w.tryKey(w.session.Settings()): true}
		for _, one := range w.session.Trials() {
			wanted[w.tryKey(one.Settings)] = true
		}
		for old := range k.tickets {
			if !wanted[old] {
				delete(k.tickets, old)
			}
		}
	}
	k.tickets[key] = t
	k.version++
}

func (w *window) tryKey(s job.Settings) tryKey { return tryKey{w.model.piece.Scan, s, w.shelf.now} }

// modelFor is the model of the piece as settings want it mended, nil where the window has none.
func (w *window) modelFor(s job.Settings) *model {
	key := mendKeyOf(w.model.piece, s)
	if key == w.model.key {
		return w.model
	}
	return w.mending.find(key)
}

// bodyFor is the thinned body of the piece as settings want it mended, the zero value where there is none yet.
func (w *window) bodyFor(s job.Settings) trialBody {
	if m := w.modelFor(s); m != nil {
		return trialBody{m.key.how, m.thin, m.piece.Thin}
	}
	for _, b := range w.trying.bodies {
		if b.how == s.Mending() {
			return b
		}
	}
	return trialBody{}
}

// known are the pieces that the window has.
func (w *window) knownPieces() (all []job.Tried) {
	for _, m := range append([]*model{w.model, w.mending.raw}, w.mending.made...) {
		all = append(all, job.Tried{Piece: m.piece, Grid: m.grid, How: m.key.how})
	}
	return all
}

// pictureKey is what the picture of settings hangs on now.
func (w *window) pictureKey(s job.Settings) pictureKey {
	k := float32(1)
	if c := w.win.Canvas(); c != nil && c.Scale() > 0 {
		k = c.Scale()
	}
	key := pictureKey{dark: w.dark(), size: image.Pt(int(ticket.TrialPictureW*k), int(ticket.TrialPictureH*k))}
	if m := w.modelFor(s); m != nil {
		key.body = m.thin
	}
	return key
}

// atRest reports whether nothing is being worked out for the bench.
func (w *window) atRest() bool {
	return !w.stale() && w.loops.reach.State() != task.Working && !w.reaching.seeking && !w.dragging && !w.loops.settle.Busy() &&
		(w.figures.Settled && w.figures.CoreKnown || w.figures.Withheld != "")
}

// wanted is what is to be worked out next; ok is false where nothing is, or where it has to wait.
func (w *window) wanted() (a tryAsk, ok bool) {
	all := w.session.Trials()
	if w.model == nil || len(all) == 0 || w.beingMended() || w.model.grid == nil && w.loops.hollow.State() == task.Working {
		return a, false
	}
	ask := func(t chore, one job.Trial, pic pictureKey) bool {
		a = tryAsk{doing: doing{t, w.tryKey(one.Settings), pic}, name: one.Name, piece: w.model.piece}
		return w.trying.faults[a.doing] == ""
	}
	for _, one := range all {
		if _, have := w.trying.tickets[w.tryKey(one.Settings)]; !have && ask(reckoning, one, pictureKey{}) {
			return a, true
		}
	}
	for _, one := range all {
		pic := w.pictureKey(one.Settings)
		lost := w.comparing.open && w.trying.beside[one.Settings] && w.bodyFor(one.Settings).body == nil
		if have := w.trying.pictures[one.Settings]; (have.key != pic || have.img == nil || lost) && ask(drawing, one, pic) {
			a.body = w.bodyFor(one.Settings)
			return a, true
		}
	}
	if w.trying.left || !w.atRest() {
		return a, false
	}
	for _, one := range append(all[:len(all):len(all)], job.Trial{Name: "The bench", Settings: w.session.Settings()}) {
		if t, have := w.trying.tickets[w.tryKey(one.Settings)]; have && !t.Deep && t.Withheld == "" && ask(following, one, pictureKey{}) {
			return a, true
		}
	}
	return a, false
}

// askTrials asks for what is wanted next, and calls long work off while the bench needs the cores.
func (w *window) askTrials() {
	k := &w.trying
	a, ok := w.wanted()
	if k.doing.chore == following && (!ok || a.doing != k.doing) {
		w.loops.try.Drop()
		k.doing, k.status = doing{}, ""
		w.showStrip()
	}
	if !ok || a.doing == k.doing {
		return
	}
	a.known = w.knownPieces()
	if w.reaching.of == w.model.piece {
		a.reached = w.reaching.last
	}
	k.doing = a.doing
	w.loops.try.Ask(a)
}

// leaveTrying is the maker's word to stop long work on trials.
func (w *window) leaveTrying() {
	if w.trying.doing.chore == following {
		w.trying.left = true
		w.askTrials()
	}
}

// tried takes what came of the work on a trial.
func (w *window) tried(a tryAsk, out tryOut, err error) {
	k := &w.trying
	if errors.Is(err, context.Canceled) || w.model == nil || a.key.scan != w.model.piece.Scan {
		return
	}
	if k.doing == a.doing {
		k.doing, k.status = doing{}, ""
	}
	switch {
	case err != nil:
		k.faults[a.doing] = sentence(err)
	case a.chore == drawing:
		k.pictures[a.key.settings] = trialPicture{a.pic, out.frame.Image}
		k.keepBody(w, out.body)
	default:
		if t, have := k.tickets[a.key]; !have || !t.Deep {
			w.remind(a.key, out.ticket)
		}
	}
	k.version++
	w.showTrials()
	w.traceTrials()
}

// keepBody keeps a body that the window has not.
func (k *trying) keepBody(w *window, b trialBody) {
	for _, m := range append([]*model{w.model, w.mending.raw}, w.mending.made...) {
		if m.thin == b.body {
			return
		}
	}
	var kept []trialBody
	for _, o := range k.bodies {
		if o.how != b.how {
			kept = append(kept, o)
		}
	}
	kept = append(kept, b)
	k.bodies = kept[max(0, len(kept)-mostBodies):]
}

// benchTicket is what is on the bench; ok is false while it is not known.
func (w *window) benchTicket() (t job.Ticket, ok bool) {
	if w.model == nil || w.trying.raw == nil || w.stale() {
		return t, false
	}
	t, ok = w.trying.tickets[w.tryKey(w.session.Settings())]
	if !ok && w.trying.raw.For == w.session.Settings() {
		t, ok = job.NewTicket(w.trying.raw, w.shelf.now), true
	}
	return w.learned(t), ok
}

// trialTicket is the ticket of settings and why there is none, "" where it is on its way.
func (w *window) trialTicket(s job.Settings) (t job.Ticket, fault string, ok bool) {
	key := w.tryKey(s)
	t, ok = w.trying.tickets[key]
	if ok && t.Withheld != "" {
		return t, t.Withheld, true
	}
	return w.learned(t), w.trying.faults[doing{chore: reckoning, key: key}], ok
}

func (w *window) learned(t job.Ticket) job.Ticket {
	return t.Learned(hours.Learn(w.reaching.records, t.For.Machine))
}

// traceTrials logs what is known of the trials.
func (w *window) traceTrials() {
	tickets, deep, drawn := 0, 0, 0
	for _, one := range w.session.Trials() {
		t, have := w.trying.tickets[w.tryKey(one.Settings)]
		tickets += count(have)
		deep += count(t.Deep)
		drawn += count(w.trying.pictures[one.Settings].img != nil)
	}
	var names []string
	for _, one := range w.session.Trials() {
		names = append(names, one.Name)
	}
	w.trace.line("what=trials n=%d tickets=%d deep=%d drawn=%d names=%q", len(names), tickets, deep, drawn, strings.Join(names, "|"))
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}
