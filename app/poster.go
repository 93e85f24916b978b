package app

import "sync"

// A poster hands functions to the window's goroutine, until the window is closed.
type poster struct {
	send func(work string, f func()) // work is whose answer it is, "" for none
	gate gate
}

// answers hands on the answers of a work.
func (p *poster) answers(work string) func(func()) {
	return func(f func()) { p.gate.pass(func() { p.send(work, f) }) }
}

// post hands on what is no work's answer.
func (p *poster) post(f func()) { p.answers("")(f) }

// A gate lets posted functions through until it is shut, when the window is closed: the toolkit's queue closes too, and what is
// sent to it then would end the program badly.
type gate struct {
	mu   sync.RWMutex
	shut bool
}

// pass calls f, which hands a function on, while the gate is open.
func (g *gate) pass(f func()) {
	g.mu.RLock()
	defer g.mu.RUnlock()
	if !g.shut {
		f()
	}
}

// close shuts the gate once all that are in it are through.
func (g *gate) close() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.shut = true
}
