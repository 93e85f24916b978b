package task

import (
	"context"

	"grainstack/app/latest"
)

// A State is how far a task has come with what is wanted of it.
type State int

// The states.
const (
	Idle    State = iota // nothing is wanted
	Working              // it is being worked out
	Done                 // it was worked out, and taken
	Failed               // it can't be worked out
	Off                  // it was called off by hand
)

// A Task works one thing out in the background. All of its methods belong to one goroutine, the window's; work runs on another.
type Task[Key comparable, Ask, Out any] struct {
	loop  *latest.Loop[wish[Key, Ask], Out]
	key   Key
	ask   Ask
	state State
}

// A wish is what to work out, and the key that it goes by.
type wish[Key comparable, Ask any] struct {
	key Key
	ask Ask
}

// New is a task. work gets what is asked for and a context; take gets what came of it, on the goroutine that post leads to, and
// only if that is still wanted.
func New[Key comparable, Ask, Out any](post func(func()), work func(context.Context, Ask) (Out, error), take func(Ask, Out, error)) *Task[Key, Ask, Out] {
	t := &Task[Key, Ask, Out]{}
	run := func(ctx context.Context, w wish[Key, Ask]) (Out, error) { return work(ctx, w.ask) }
	t.loop = latest.New(latest.Cancel, post, run, func(w wish[Key, Ask], out Out, err error) {
		if t.state != Working || w.key != t.key {
			return
		}
		t.state = Done
		if err != nil {
			t.state = Failed
		}
		t.forget()
		take(w.ask, out, err)
	})
	return t
}

// Want asks for what goes by a key, unless that has been asked for before: it may be in hand, done, failed or called off.
// It reports whether work was begun.
func (t *Task[Key, Ask, Out]) Want(key Key, ask Ask) bool {
	if t.state != Idle && key == t.key {
		return false
	}
	t.key, t.ask, t.state = key, ask, Working
	t.loop.Ask(wish[Key, Ask]{key, ask})
	return true
}

// Drop says that nothing is wanted any more.
func (t *Task[Key, Ask, Out]) Drop() {
	t.loop.Drop()
	var none Key
	t.key, t.state = none, Idle
	t.forget()
}

// CallOff stops what is in hand at the maker's word, and reports whether there was something.
func (t *Task[Key, Ask, Out]) CallOff() bool {
	if t.state != Working {
		return false
	}
	t.loop.Drop()
	t.state = Off
	return true
}

// GoOn begins again what was called off, and reports whether there was something.
func (t *Task[Key, Ask, Out]) GoOn() bool {
	if t.state != Off {
		return false
	}
	t.state = Working
	t.loop.Ask(wish[Key, Ask]{t.key, t.ask})
	return true
}

// Asked is what is in hand or was called off, the zero value otherwise.
func (t *Task[Key, Ask, Out]) Asked() Ask { return t.ask }

// State is how far the task has come.
func (t *Task[Key, Ask, Out]) State() State { return t.state }

// StateOf is how far it has come with what goes by a key.
func (t *Task[Key, Ask, Out]) StateOf(key Key) State {
	if key != t.key {
		return Idle
	}
	return t.state
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
