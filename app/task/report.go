package task

import (
	"context"
	"sync"
	"time"
)

// A Report is how a worker tells how far it is. Both may be called from any goroutine and as often as it likes.
type Report[Out any] struct {
	// Progress says what is being done, "" for the usual, and the share done, less than 0 where that is not known.
	Progress func(step string, done float64)
	// Early hands in what there is so far; what the goroutine that asks has not got to when more comes is passed over.
	Early func(out Out)
}

// Silent is a report that nobody reads.
func Silent[Out any]() Report[Out] {
	return Report[Out]{func(string, float64) {}, func(Out) {}}
}

// tellEvery keeps the window from being repainted for every step of a calculation.
const tellEvery = 100 * time.Millisecond

// A teller carries what a worker tells to the goroutine that asks: never more than one message is on its way.
type teller[Out any] struct {
	ctx  context.Context
	post func(func())
	told func(news[Out])

	mu     sync.Mutex
	next   news[Out]
	last   time.Time
	posted bool
}

// news is what a worker has told since the last message.
type news[Out any] struct {
	step  string
	share float64
	early *Out
}

func (t *teller[Out]) report() Report[Out] {
	return Report[Out]{
		Progress: func(step string, done float64) {
			t.send(func(n *news[Out]) { n.step, n.share = step, done }, tellEvery)
		},
		Early: func(out Out) {
			t.send(func(n *news[Out]) { n.early = &out }, 0)
		},
	}
}

// send adds to the news, and posts them where the last are so long ago.
func (t *teller[Out]) send(add func(*news[Out]), every time.Duration) {
	t.mu.Lock()
	add(&t.next)
	due := !t.posted && time.Since(t.last) >= every
	if due {
		t.posted, t.last = true, time.Now()
	}
	t.mu.Unlock()
	if due {
		t.post(t.deliver)
	}
}

func (t *teller[Out]) deliver() {
	t.mu.Lock()
	n := t.next
	t.next.early, t.posted = nil, false
	t.mu.Unlock()
	if t.ctx.Err() == nil {
		t.told(n)
	}
}
