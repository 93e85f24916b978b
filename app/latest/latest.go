package latest

import (
	"context"
	"sync"
)

// A Manner says what happens to work in hand when a newer request comes.
type Manner int

// The two manners.
const (
	Finish Manner = iota // let it end and show it, then take the newest
	Cancel               // call it off and never show it
)

// A Loop runs requests of one kind, newest first. Make it with New.
type Loop[In, Out any] struct {
	manner Manner
	post   func(func())
	run    func(context.Context, In) (Out, error)
	show   func(In, Out, error)

	mu      sync.Mutex
	waiting *request[In]
	begun   context.CancelFunc // of the last that was begun, in hand while busy; what was asked is let go once it is answered
	busy    bool
	stopped bool
	working sync.WaitGroup
}

// request carries its own context: overtaken means cancelled.
type request[In any] struct {
	in     In
	ctx    context.Context
	cancel context.CancelFunc
}

// New makes a loop. post hands a function to the goroutine that calls Ask; run is called on a worker, one call at a time;
// show is called through post with what was asked and what came of it. Answers come in the order in which they were asked.
func New[In, Out any](m Manner, post func(func()), run func(context.Context, In) (Out, error), show func(In, Out, error)) *Loop[In, Out] {
	return &Loop[In, Out]{manner: m, post: post, run: run, show: show}
}

// Ask hands in a request and returns at once. It replaces a request that is still waiting.
func (l *Loop[In, Out]) Ask(in In) {
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
	l.waiting = &request[In]{in, ctx, cancel}
	if l.begun != nil && l.manner == Cancel {
		l.begun()
	}
	if !l.busy {
		l.busy = true
		l.working.Go(l.work)
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

// Wait returns when the worker has nothing left to do.
func (l *Loop[In, Out]) Wait() { l.working.Wait() }

// Busy reports whether a request is in hand.
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
	if l.begun != nil {
		l.begun()
	}
}

// work runs what waits, and then whatever has come meanwhile, until there is nothing.
func (l *Loop[In, Out]) work() {
	for r := l.next(); r != nil; r = l.next() {
		out, err := l.run(r.ctx, r.in)
		l.post(func() {
			if r.ctx.Err() == nil {
				r.cancel()
				l.show(r.in, out, err)
			}
		})
	}
}

// next is the request to run now; without one the loop is no longer busy.
func (l *Loop[In, Out]) next() *request[In] {
	l.mu.Lock()
	defer l.mu.Unlock()
	r := l.waiting
	l.waiting, l.busy = nil, r != nil
	if r != nil {
		l.begun = r.cancel
	}
	return r
}
