package task

import (
	"context"
	"time"

	"grainstack/app/latest"
)

// A Desk is where a task hands in, on the goroutine that asks.
type Desk struct {
	Post    func(func()) // hands on an answer
	Say     func(func()) // hands on how far a worker is
	Changed func()       // called after each answer
	Told    func()       // called after a worker has said how far it is
}

// A Work is what a task does, away from the goroutine that asks: it sees what it is asked for and nothing else.
type Work[Ask, Out any] func(ctx context.Context, ask Ask, report Report[Out]) (Out, error)

// A Task works one thing out in the background. All of its methods belong to the goroutine that asks.
type Task[Key comparable, Ask, Out any] struct {
	loop  *latest.Loop[wish[Key, Ask], Out]
	desk  Desk
	at    *Status[Key]
	ask   Ask
	early func(Ask, Out)
	last  time.Time // when an answer was taken
}

// A wish is what to work out, and the key that it goes by.
type wish[Key comparable, Ask any] struct {
	key Key
	ask Ask
}

// New is a task whose status is kept in at. take gets what came of what was asked for, if that is still wanted; under the manner
// latest.Finish it also gets, in their order, what was begun before something else was wanted.
func New[Key comparable, Ask, Out any](m latest.Manner, d Desk, at *Status[Key], work Work[Ask, Out], take func(Ask, Out, error)) *Task[Key, Ask, Out] {
	t := &Task[Key, Ask, Out]{desk: d, at: at}
	run := func(ctx context.Context, w wish[Key, Ask]) (Out, error) {
		told := func(n news[Out]) {
			if t.at.Of(w.key) == Working {
				t.told(w.ask, n)
			}
		}
		r := &teller[Out]{ctx: ctx, post: d.Say, told: told}
		return work(ctx, w.ask, r.report())
	}
	t.loop = latest.New(m, d.Post, run, func(w wish[Key, Ask], out Out, err error) {
		wanted := t.at.Of(w.key) == Working
		if !wanted && (m != latest.Finish || t.at.State != Working) {
			return
		}
		if wanted {
			t.is(Done)
			if err != nil {
				t.is(Failed)
				t.at.Fault = err.Error()
			}
			t.forget()
		}
		t.last = time.Now()
		take(w.ask, out, err)
		d.Changed()
	})
	return t
}

// Early has take called with what a worker hands in before it has done, while that is wanted.
func (t *Task[Key, Ask, Out]) Early(take func(Ask, Out)) *Task[Key, Ask, Out] {
	t.early = take
	return t
}

func (t *Task[Key, Ask, Out]) told(ask Ask, n news[Out]) {
	t.at.Told, t.at.Step, t.at.Share = true, n.step, n.share
	if n.early != nil && t.early != nil {
		t.early(ask, *n.early)
		t.desk.Changed()
		return
	}
	t.desk.Told()
}

// is takes another state with the same key.
func (t *Task[Key, Ask, Out]) is(s State) { *t.at = Status[Key]{Key: t.at.Key, State: s} }

// Want asks for what goes by a key, to be begun after so much rest, unless that has been asked for before: it may be in hand,
// done, failed or called off. It reports whether it was asked for.
func (t *Task[Key, Ask, Out]) Want(key Key, after time.Duration, ask Ask) bool {
	if t.at.State != Idle && key == t.at.Key {
		return false
	}
	*t.at, t.ask = Status[Key]{Key: key, State: Working}, ask
	t.loop.AskAfter(after, wish[Key, Ask]{key, ask})
	return true
}

// Drop says that nothing is wanted any more.
func (t *Task[Key, Ask, Out]) Drop() {
	t.loop.Drop()
	*t.at = Status[Key]{}
	t.forget()
}

// CallOff stops what is in hand at the maker's word, and reports whether there was something.
func (t *Task[Key, Ask, Out]) CallOff() bool {
	if t.at.State != Working {
		return false
	}
	t.loop.Drop()
	t.is(Off)
	return true
}

// GoOn begins again what was called off, and reports whether there was something.
func (t *Task[Key, Ask, Out]) GoOn() bool {
	if t.at.State != Off {
		return false
	}
	t.is(Working)
	t.loop.Ask(wish[Key, Ask]{t.at.Key, t.ask})
	return true
}

// Again has what failed or was called off be asked for once more.
func (t *Task[Key, Ask, Out]) Again() {
	if t.at.State == Failed || t.at.State == Off {
		t.Drop()
	}
}

// Since is how long ago the last answer was taken.
func (t *Task[Key, Ask, Out]) Since() time.Duration { return time.Since(t.last) }

// State is how far the task has come.
func (t *Task[Key, Ask, Out]) State() State { return t.at.State }

// Progress is what the worker has told of what is in hand; ok is false while it has told nothing.
func (t *Task[Key, Ask, Out]) Progress() (step string, share float64, ok bool) {
	return t.at.Step, t.at.Share, t.at.State == Working && t.at.Told
}

// Stop, Wait and Busy are those of the task's loop.
func (t *Task[Key, Ask, Out]) Stop()      { t.loop.Stop() }
func (t *Task[Key, Ask, Out]) Wait()      { t.loop.Wait() }
func (t *Task[Key, Ask, Out]) Busy() bool { return t.loop.Busy() }

// forget lets go of what was asked: it may hold a whole piece.
func (t *Task[Key, Ask, Out]) forget() {
	var none Ask
	t.ask = none
}
