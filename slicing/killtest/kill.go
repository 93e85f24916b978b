package killtest

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// Nothing is the round that was left where nothing has been written yet.
const Nothing = -1

// A Killing is a test of what kills leave.
type Killing struct {
	Child string // the test of this package that is the process: it calls Written and Rounds
	Path  string // that it writes to, a file or a folder; every third time there is nothing to begin with
	Kills int    // at least

	Before func() // runs before each process is started, once the path is cleared where it is to be; nil for nothing

	// Look says of which round what is there is: old, the last that was wholly written (Nothing before that), or next, the one
	// that a kill may have ended. Anything else that is there, a part or a mixture, is an error.
	Look func(old, next int) (left int, err error)
}

// afresh is how often a process is started where there is nothing: what is written for the first time is another case.
const afresh = 3

// oftenAtEnd is how often a kill is meant for the last two steps of the write, where the new takes the place of the old.
const oftenAtEnd = 4

// Run kills as often as was asked and fails where a kill left neither the old nor the new.
func (k Killing) Run(t *testing.T) {
	t.Helper()
	if err := k.run(); err != nil {
		t.Error(err)
	}
}

// Of all kills this share must have come while the process worked on the step, and not while it waited at its end; more are
// tried until they have, at most so many times as many as were asked for.
const (
	atWork   = 0.2
	tooOften = 10
)

func (k Killing) run() error {
	random := rand.New(rand.NewPCG(1, 2))
	order := random.Perm(k.Kills)
	var p pace
	old, newest, worked := Nothing, Nothing, 0
	for n := 0; n < k.Kills || float64(worked) < atWork*float64(k.Kills); n++ {
		if n == tooOften*k.Kills {
			return fmt.Errorf("of %d kills %d came while a step was worked on: the test looked at too little", n, worked)
		}
		if n%afresh == 0 {
			if err := os.RemoveAll(k.Path); err != nil {
				return err
			}
			old = Nothing
		}
		if k.Before != nil {
			k.Before()
		}
		aim := (float64(order[n%k.Kills]) + random.Float64()) / float64(k.Kills)
		if n%oftenAtEnd == 0 {
			aim = max(0, 1-2*random.Float64()/float64(max(p.steps, 1)))
		}
		at, err := k.once(&p, newest+1, n%2, aim)
		if err != nil {
			return err
		}
		if at.finished > Nothing {
			old = at.finished
		}
		if at.working {
			worked++
		}
		left, err := k.Look(old, at.round)
		if err == nil && left != old && left != at.round {
			err = fmt.Errorf("round %d is there, and should be %d or %d", left, old, at.round)
		}
		if err != nil {
			return fmt.Errorf("kill %d, after step %d of round %d: %w", n+1, at.step, at.round, err)
		}
		old, newest = left, max(left, newest)
	}
	return nil
}

// A place is where in its rounds a process is.
type place struct {
	round, finished int  // that it is in; that it finished last, Nothing for none
	step            int  // of the round, 0 before the first
	working         bool // it was killed before it came to the step's end
}

// once starts a process with a round and kills it in that one, or so many rounds later, at a share of the write.
func (k Killing) once(p *pace, first, later int, aim float64) (place, error) {
	c, err := start(k.Child, k.Path, first)
	if err != nil {
		return place{}, err
	}
	at := place{round: first, finished: Nothing}
	step, share := p.point(aim)
	for {
		b, took, err := c.next()
		if err != nil {
			return at, errors.Join(err, c.end())
		}
		switch b {
		case began:
			at.round, at.step = first, 0
			if at.finished > Nothing {
				at.round = at.finished + 1
			}
		case stepped:
			p.learn(at.step, took)
			at.step++
		case ended:
			p.learn(at.step, took)
			p.steps, at.finished = at.step+1, at.round
		}
		c.leave()
		if b != ended && (at.round > first+later || at.round == first+later && at.step >= step) {
			time.Sleep(time.Duration(share * float64(p.took(at.step))))
			at.working, err = c.kill()
			return at, err
		}
	}
}

// A pace is what is known of the steps of a write.
type pace struct {
	steps int             // that the last whole write had, with the one before it told anything
	times []time.Duration // that each took the last time
}

// point is the step at a share of the write and the share of that step.
func (p *pace) point(aim float64) (step int, share float64) {
	whole, share := math.Modf(aim * float64(max(p.steps, 1)))
	return int(whole), share
}

// took is how long a step took the last time, 0 where it has never ended.
func (p *pace) took(step int) time.Duration {
	if step >= len(p.times) {
		return 0
	}
	return p.times[step]
}

// learn takes in how long a step took.
func (p *pace) learn(step int, took time.Duration) {
	for len(p.times) <= step {
		p.times = append(p.times, 0)
	}
	p.times[step] = took
}
