package work

import (
	"context"
	"time"

	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/slicing/job"
	"grainstack/slicing/trial"
)

// A TrialAsk asks for one piece of work on a trial.
type TrialAsk struct {
	state.Doing
	piece   *job.Piece
	known   []trial.Tried
	reached *job.Reached    // the newest that the bench has, of whatever settings
	body    state.TrialBody // its body is nil where the piece has to be made for it
}

// A TrialOut is what came of it.
type TrialOut struct {
	ticket trial.Ticket
	frame  *frame.Frame
	body   state.TrialBody
}

// trialTask works on trials.
type trialTask = task.Task[state.Doing, TrialAsk, TrialOut]

// followAfter is how long the bench has to rest before the cutters of trials are followed: that keeps all cores busy.
const followAfter = 700 * time.Millisecond

// NextTrial is the work on trials that is wanted next; ok is false where nothing is, or where it has to wait.
func NextTrial(b *state.Bench) (d state.Doing, ok bool) {
	all, ways := b.Trials(), b.Screen.Ways
	if b.Model == nil || len(all)+len(ways) == 0 || b.BeingMended() || b.Model.Grid == nil && b.HollowComes() {
		return d, false
	}
	next := func(c state.Chore, s job.Settings, pic state.PictureKey) bool {
		d = state.Doing{Chore: c, Key: b.Tried.Key(s), Pic: pic}
		return b.Tried.Faults[d] == ""
	}
	for _, one := range all {
		if _, have := b.Tried.Tickets[b.Tried.Key(one.Settings)]; !have && next(state.Reckoning, one.Settings, state.PictureKey{}) {
			return d, true
		}
	}
	for _, one := range all {
		pic := b.Tried.PictureKey(one.Settings)
		lost := b.Screen.Comparing && b.Tried.Beside[one.Settings] && b.Tried.BodyFor(one.Settings).Body == nil
		if have := b.Tried.Pictures[one.Settings]; (have.Key != pic || have.Img == nil || lost) && next(state.Drawing, one.Settings, pic) {
			return d, true
		}
	}
	for _, s := range ways {
		pic := b.Tried.PictureKey(s)
		if have := b.Tried.Pictures[s]; (have.Key != pic || have.Img == nil) && next(state.Drawing, s, pic) {
			return d, true
		}
	}
	for _, s := range ways {
		if _, have := b.Tried.Tickets[b.Tried.Key(s)]; !have && next(state.Reckoning, s, state.PictureKey{}) {
			return d, true
		}
	}
	if !b.AtRest() {
		return d, false
	}
	var deep []job.Settings
	for _, one := range all {
		deep = append(deep, one.Settings)
	}
	if len(all) > 0 {
		deep = append(deep, b.Settings())
	}
	for _, s := range append(deep, ways...) {
		if t, have := b.Tried.Tickets[b.Tried.Key(s)]; have && !t.Deep && t.Withheld.None() && next(state.Following, s, state.PictureKey{}) {
			return d, true
		}
	}
	return d, false
}

// WantTrials wants what is next of the trials. Long work on them is left while the bench needs the cores.
func WantTrials(b *state.Bench, t *trialTask) {
	d, ok := NextTrial(b)
	switch {
	case ok:
	case t.State() == task.Off && len(b.Trials())+len(b.Screen.Ways) > 0:
		return // until the maker goes on, or something else is to be done
	default:
		t.Drop()
		return
	}
	a := TrialAsk{Doing: d, piece: b.Model.Piece, known: b.KnownPieces()}
	if d.Chore == state.Drawing {
		a.body = b.Tried.BodyFor(d.Key.Settings)
	}
	if b.Reach.Followed(b.Standing) {
		a.reached = b.Reach.Last
	}
	var after time.Duration
	if d.Chore == state.Following {
		after = followAfter
	}
	t.Want(d, after, a)
}

// TrialDone takes what came of the work on a trial.
func TrialDone(b *state.Bench, a TrialAsk, out TrialOut, err error) {
	t := &b.Tried
	switch {
	case err != nil:
		t.Faults[a.Doing] = err.Error()
	case a.Chore == state.Drawing:
		t.Pictures[a.Key.Settings] = state.TrialPicture{Key: a.Pic, Img: out.frame.Image}
		b.Tried.KeepBody(out.body)
	default:
		if have, ok := t.Tickets[a.Key]; !ok || !have.Deep {
			b.Tried.Remind(a.Key, out.ticket)
		}
	}
	t.Version++
}

// A trier works on trials, and keeps what it made for the next.
type trier struct {
	trial.Trier
	r *look.Renderer
}

// Trials works on trials, one after another.
func Trials() task.Work[TrialAsk, TrialOut] {
	return (&trier{r: look.NewRenderer()}).try
}

func (t *trier) try(ctx context.Context, a TrialAsk, report task.Report[TrialOut]) (out TrialOut, err error) {
	if a.Chore == state.Drawing {
		return t.picture(ctx, a, report)
	}
	out.ticket, err = t.Ticket(ctx, a.piece, a.Key.Settings, a.Key.Stock, a.known, a.Chore == state.Following, a.reached, report.Progress)
	return out, err
}

// picture draws the small picture of a trial as its own settings have it.
func (t *trier) picture(ctx context.Context, a TrialAsk, report task.Report[TrialOut]) (out TrialOut, err error) {
	s := a.Key.Settings
	if err := s.Check(a.Key.Stock); err != nil {
		return out, err
	}
	if out.body = a.body; out.body.Body == nil {
		tried, err := t.Piece(ctx, a.piece, s, a.known, report.Progress)
		if err != nil {
			return out, err
		}
		thin := tried.Piece.Thin
		out.body = state.TrialBody{How: s.Mending(), Body: look.NewBody(thin), Thin: thin}
		if tried.Grid != nil {
			out.body.Body = out.body.Body.WithOpenness(tried.Grid.Openness(thin.Points, nil))
		}
	}
	place := picture.SetDown(out.body.Thin, s.Stand())
	view, _ := picture.ViewOf(place, s, a.Key.Stock, nil, picture.Sight{Camera: picture.FirstCamera(), Size: a.Pic.Size})
	out.frame, err = t.r.Fine(ctx, out.body.Body, view, picture.DressOf(s, a.Key.Stock, place.Height, a.Pic.Dark))
	return out, err
}
