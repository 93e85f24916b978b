package app

import (
	"context"
	"slices"
	"time"

	"grainstack/app/picture"
	"grainstack/app/task"
	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
)

// A mendKey is all that a mended piece hangs on: the scan, and what of the settings changes its surface.
type mendKey struct {
	scan *job.Scan
	how  mend.Settings
}

// mendKeyOf is the key of a piece's scan, mended as the settings want it.
func mendKeyOf(p *job.Piece, s job.Settings) mendKey { return mendKey{p.Scan, s.Mending()} }

// mending is what the window knows of making the scan a solid; what is in hand its task knows.
type mending struct {
	raw   *model   // the scan as it was read
	made  []*model // the last few that were made of it, the newest last
	fault string   // why the piece is not as the settings want it, once that was called off or failed
}

// mostMade is how many mended pieces are kept, so that undo and redo show them at once.
const mostMade = 5

// keep puts a model at the end of those that were made, in place of an older state of it.
func (m *mending) keep(one *model) {
	m.made = slices.DeleteFunc(m.made, func(o *model) bool { return o.key == one.key })
	m.made = append(m.made, one)
	if n := len(m.made) - mostMade; n > 0 {
		m.made = slices.Delete(m.made, 0, n)
	}
}

// find is the model for a key, nil where there is none.
func (m *mending) find(key mendKey) *model {
	for _, one := range append([]*model{m.raw}, m.made...) {
		if one.key == key {
			return one
		}
	}
	return nil
}

type mendAsk struct {
	asking
	raw      *model
	closed   *model // the same but for smoothing and thinning, nil where it is not known
	key      mendKey
	settings job.Settings
	wait     time.Duration
}

// mendAfter is how long the hand has to rest before mending begins anew: it would only be called off.
const mendAfter = 150 * time.Millisecond

// askMend sees to it that the piece is mended as the settings want it: at once where that is known, else in a while.
func (w *window) askMend() {
	m, key := &w.mending, mendKeyOf(w.model.piece, w.session.Settings())
	if key == w.model.key {
		w.endMend()
		return
	}
	if one := m.find(key); one != nil {
		w.exchange(one)
		return
	}
	a := mendAsk{asking: w.asked, raw: m.raw, key: key, settings: w.session.Settings(), wait: mendAfter}
	if w.model == m.raw && len(m.made) == 0 {
		a.wait = 0
	}
	whole := a.settings
	whole.Mend.Smooth, whole.Mend.Thin = 0, 0
	a.closed = m.find(mendKeyOf(w.model.piece, whole))
	if w.loops.mend.Want(key, a) {
		m.fault = ""
	}
}

// endMend says that the piece is as the settings want it.
func (w *window) endMend() {
	w.loops.mend.Drop()
	w.mending.fault = ""
	w.calm()
}

// beingMended reports whether another piece than the one on the bench is on its way.
func (w *window) beingMended() bool { return w.loops.mend.State() == task.Working }

// mend makes a solid of a scan; called off, it gives only the error.
func (w *window) mend(ctx context.Context, a mendAsk) (*model, error) {
	if err := rest(ctx, a.wait); err != nil {
		return nil, err
	}
	tell := w.progress(ctx, "mending the scan")
	var err error
	closed := a.raw.piece
	switch {
	case a.closed != nil && a.closed.key.how.Off == a.key.how.Off && a.closed.key.how.Resolution == a.key.how.Resolution:
		closed = a.closed.piece
	default:
		if closed, err = closed.Close(ctx, a.settings, tell); err != nil {
			return nil, err
		}
	}
	p, err := closed.Refine(ctx, a.settings, tell)
	if err != nil {
		return nil, err
	}
	m := *a.raw
	m.key = a.key
	if p == a.raw.piece {
		return &m, ctx.Err()
	}
	m.piece, m.grid = p, nil
	if p.Mesh != a.raw.piece.Mesh {
		m.dress()
	}
	return &m, ctx.Err()
}

// progress hands the progress of long work on to the margin, not too often.
func (w *window) progress(ctx context.Context, usual string) func(string, float64) {
	var last time.Time
	return func(step string, done float64) {
		if time.Since(last) < progressEvery {
			return
		}
		last = time.Now()
		if step == "" {
			step = usual
		}
		w.post(func() {
			if ctx.Err() == nil {
				w.margin.work(step, done)
			}
		})
	}
}

// mended takes a mended piece in place of the one before; a mending that failed leaves that one.
func (w *window) mended(a mendAsk, m *model, err error) {
	w.asked = w.now()
	if err != nil {
		w.mending.fault = sentence(err)
		w.margin.hint(w.mending.fault)
	} else {
		w.exchange(m)
	}
	w.calm()
	w.follow()
}

// exchange puts a piece that was mended otherwise in the place of the one on the bench.
func (w *window) exchange(m *model) {
	w.endMend()
	for _, one := range []*model{w.model, w.mending.raw} { // nothing had to be done to it
		if m.piece == one.piece && m.grid == nil {
			with := *one
			with.key = m.key
			m = &with
		}
	}
	same := m.piece == w.model.piece
	w.model = m
	if m != w.mending.raw && m.key != w.mending.raw.key {
		w.mending.keep(m)
	}
	if !same {
		w.stoodAt = time.Time{}
	}
	w.traceMended()
}

// mendNow is the maker's word to try again.
func (w *window) mendNow() {
	w.endMend()
	w.follow()
}

type surveyAsk struct {
	scan      *job.Scan
	crossings bool
}

func lookOver(ctx context.Context, a surveyAsk) (*mend.Findings, error) {
	f, err := mend.Survey(ctx, a.scan.Mesh, a.scan.Adjacency, a.crossings)
	return &f, err
}

// askSurvey looks the scan over: first for all but where it runs through itself, which takes longest, and for that too where
// mending did not find the scan clean.
func (w *window) askSurvey() {
	scan := w.model.piece.Scan
	a := surveyAsk{scan: scan}
	switch {
	case w.survey == nil:
		w.loops.survey.Want(a, a)
	case !w.survey.Crossings && !w.beingMended() && (w.model.piece.Mesh != scan.Mesh || w.model.key.how.Off):
		a.crossings = true
		w.loops.survey.Want(a, a)
	}
}

// surveyed takes the findings.
func (w *window) surveyed(_ surveyAsk, f *mend.Findings, err error) {
	if err != nil {
		w.failed(err)
		return
	}
	if w.finding > 0 { // the same place may have another number now
		was := w.survey.List[w.finding-1]
		w.finding = slices.Index(f.List, was) + 1
	}
	w.survey = f
	w.askSurvey()
	w.showAll()
	w.traceFound()
}

// closeUp is how much larger than whole the piece is shown at a finding.
const closeUp = 2.6

// Go takes the view to a finding: it faces the viewer, in the middle of the picture, with a ring round it.
func (w *window) Go(finding int) {
	if w.survey == nil || w.model == nil || finding < 1 || finding > len(w.survey.List) {
		return
	}
	w.finding = finding
	f := w.survey.List[finding-1]
	out, ok := w.facing(f)
	at := w.look.place
	if at.Placement.Scale == 0 {
		at = picture.SetDown(w.model.piece.Thin, w.session.Settings().Stand())
	}
	w.camera.Zoom = max(w.camera.Zoom, closeUp)
	if ok {
		w.camera = picture.From(w.camera, at.Placement.Turn.Apply(out))
	}
	v := look.View{Camera: w.camera, Placement: at.Placement, Height: at.Height, Size: w.look.Pixels()}
	w.camera = v.Centred(w.model.full, at.Placement.Apply(f.At))
	w.margin.hint(f.Sentence(w.session.Settings().Scale))
	w.asked = w.now()
	w.askLook()
	w.showAll()
}

// facing is the direction from which a finding is seen best, in the piece's own frame.
func (w *window) facing(f mend.Finding) (geom.Vec, bool) {
	for _, l := range w.survey.Loops {
		if f.Kind == mend.Hole && l.Center == f.At {
			return l.Normal, true
		}
	}
	return picture.Facing(w.mending.raw.piece.Mesh, f.At)
}

// sawLine is where the saw will go through the piece on the screen, while that has not been done: ok is false where the saw
// is not set, or not level as the piece stands.
func (w *window) toSaw() (p mend.Plane, ok bool) {
	saw := w.session.Settings().Mend.Saw
	return saw, w.beingMended() && saw.On && w.model.key.how.Saw != saw
}
