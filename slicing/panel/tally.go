package panel

import "sync"

// toldEvery is how many steps go by between two words on how far a search is: a hundredth of the usual search.
const toldEvery = Steps / 100

// A tally counts the steps of searches and tells how many are done. A nil one tells nothing.
type tally struct {
	mu   sync.Mutex
	done int
	all  int
	tell func(done float64)
}

func newTally(steps int, tell func(done float64)) *tally {
	if tell == nil || steps <= 0 {
		return nil
	}
	return &tally{all: steps, tell: tell}
}

func (t *tally) add(steps int) {
	if t == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.done += steps
	t.tell(min(1, float64(t.done)/float64(t.all)))
}
