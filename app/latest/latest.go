package latest

import (
	"context"
	"fmt"
	"os"
	"runtime/debug"
	"sync"
	"time"
)

// A Manner says what happens to work in hand when a newer request comes.
type Manner int

// The two manners.
const (
	Finish Manner = iota // let it end and show it, then take the newest
	Cancel               // call it off and never show it
)

// A Loop runs requests of one kind, newest first. Make it with New.
//
// Never more than one answer is on its way to the goroutine that asks: the next request is begun once the answer before it has
// been shown, or was overtaken. So a goroutine that is slow to show pictures is sent fewer of them, and no memory piles up.
type Loop[In, Out any] struct {
	manner Manner
	post   func(func())
	run    func(context.Context, In) (Out, error)
	show   func(In, Out, error)

	mu      sync.Mutex
	waiting *request[In]
	begun   context.CancelFunc // of the last that was begun; what was asked is let go once it is answered
	answer  *answer[In, Out]   // worked out and not shown yet
	posted  bool               // deliver is on its way
	busy    bool               // the worker runs
	resting bool               // and waits before it begins
	stopped bool
	working sync.WaitGroup
}

// request carries its own context: overtaken means cancelled.
type request[In any] struct {
	in     In
	rest   time.Duration
	ctx    context.Context
	cancel context.CancelFunc
}

type answer[In, Out any] struct {
	*request[In]
	out Out
	err error
}

// New makes a loop. post hands a function to the goroutine that calls Ask; run is called on a worker, one call at a time;
// show is called through post with what was asked and what came of it. Answers come in the order in which they were asked.
// A panic in run is shown as an error.
func New[In, Out any](m Manner, post func(func()), run func(context.Context, In) (Out, error), show func(In, Out, error)) *Loop[In, Out] {
	return &Loop[In, Out]{manner: m, post: post, run: run, show: show}
}

// Ask hands in a request and returns at once. It replaces a request that is still waiting.
func (l *Loop[In, Out]) Ask(in In) { l.AskAfter(0, in) }

// AskAfter is Ask for what is begun only after so much rest: until then a newer request takes its place, whatever the manner.
func (l *Loop[In, Out]) AskAfter(rest time.Duration, in In) {
	ctx, cancel := context.WithCancel(context.Background())
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.stopped {
		cancel()
		return
	}
	if l.waiting != nil {
		l.waiting.cancel()
	}
	l.waiting = &request[In]{in, rest, ctx, cancel}
	if l.manner == Cancel || l.resting {
		l.overtake()
	}
	if l.answer == nil {
		l.begin()
	}
}

// Drop calls off whatever is in hand or waiting; later requests are taken as before.
func (l *Loop[In, Out]) Drop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.drop()
}

// Stop is Drop for good. It returns at once: what is in hand ends when it looks at its context, and is not shown.
func (l *Loop[In, Out]) Stop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.stopped = true
	l.drop()
}

// Wait returns when nothing is left to do. Called on the goroutine that asks, it shows nothing meanwhile, and of the answers
// only the last one after it.
func (l *Loop[In, Out]) Wait() {
	for l.left() {
		l.working.Wait()
	}
}

// left begins what waits, and reports whether there is work.
func (l *Loop[In, Out]) left() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.waiting != nil {
		l.answer = nil
		l.begin()
	}
	return l.busy
}

// Busy reports whether a request is being worked out.
func (l *Loop[In, Out]) Busy() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.busy
}

func (l *Loop[In, Out]) drop() {
	if l.waiting != nil {
		l.waiting.cancel()
		l.waiting = nil
	}
	l.overtake()
}

// overtake calls off what is in hand and lets go of what has not been shown.
func (l *Loop[In, Out]) overtake() {
	if l.begun != nil {
		l.begun()
	}
	l.answer = nil
}

// begin starts the worker where it does not run.
func (l *Loop[In, Out]) begin() {
	if !l.busy {
		l.busy = true
		l.working.Go(l.work)
	}
}

// work runs what waits, and then whatever has come meanwhile, until there is nothing or an answer has to be shown first.
func (l *Loop[In, Out]) work() {
	for r := l.next(); r != nil; r = l.next() {
		out, err := l.try(r)
		if l.keep(&answer[In, Out]{r, out, err}) {
			l.post(l.deliver)
		}
	}
}

// next is the request to run now; without one the loop is no longer busy.
func (l *Loop[In, Out]) next() *request[In] {
	l.mu.Lock()
	defer l.mu.Unlock()
	r := l.waiting
	if l.answer != nil {
		r = nil
	}
	if l.busy = r != nil; l.busy {
		l.waiting, l.begun, l.resting = nil, r.cancel, r.rest > 0
	}
	return r
}

// try runs a request. What the program's own mistakes come to is told like any other error, with their place on standard error.
func (l *Loop[In, Out]) try(r *request[In]) (out Out, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			fmt.Fprintf(os.Stderr, "%+v\n%s", fault, debug.Stack())
			err = fmt.Errorf("the program made a mistake while it worked this out (%v); change a setting and it is tried again", fault)
		}
	}()
	if err := l.rested(r); err != nil {
		return out, err
	}
	return l.run(r.ctx, r.in)
}

// rested waits before a request is begun.
func (l *Loop[In, Out]) rested(r *request[In]) error {
	if r.rest <= 0 {
		return nil
	}
	select {
	case <-time.After(r.rest):
	case <-r.ctx.Done():
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.resting = false
	return r.ctx.Err()
}

// keep keeps an answer to be shown unless it was overtaken, and reports whether deliver has to be posted for it.
func (l *Loop[In, Out]) keep(a *answer[In, Out]) (post bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if a.ctx.Err() != nil {
		return false
	}
	l.answer = a
	post, l.posted = !l.posted, true
	return post
}

// deliver shows the answer that is there, and begins what waits.
func (l *Loop[In, Out]) deliver() {
	l.mu.Lock()
	a := l.answer
	l.answer, l.posted = nil, false
	l.mu.Unlock()
	if a != nil {
		a.cancel()
		l.show(a.in, a.out, a.err)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.waiting != nil && l.answer == nil {
		l.begin()
	}
}
