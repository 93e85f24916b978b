package mend

import "sync"

// rising is a report that never goes back: steps that are taken again stay where they were. nil reports to nobody.
func rising(report func(step string, done float64)) func(step string, done float64) {
	most := 0.0
	return func(step string, done float64) {
		if most = max(most, done); report != nil {
			report(step, most)
		}
	}
}

// A share reports how much of a step is done, from one goroutine at a time.
type share struct {
	mu         sync.Mutex
	done, of   int
	from, part float64
	report     func(float64)
	last       float64
}

func newShare(of int, from, part float64, report func(float64)) *share {
	return &share{of: of, from: from, part: part, report: report}
}

// add says that one more part is done.
func (s *share) add() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.done++
	if f := float64(s.done) / float64(s.of); f-s.last > 0.02 && s.report != nil {
		s.last = f
		s.report(s.from + s.part*f)
	}
}
