package field

import (
	"sync"
	"time"
)

// reportEvery keeps progress to at most 20 calls a second.
const reportEvery = 50 * time.Millisecond

// A meter turns shares of stages into calls of a progress function.
type meter struct {
	report func(float64)
	mu     sync.Mutex
	last   time.Time
	before float64 // of all stages before this one
	share  float64 // of this stage
	within float64 // of this stage done, 0 to 1
}

func newMeter(report func(float64)) *meter { return &meter{report: report, last: time.Now()} }

// stage ends the stage before and begins one that takes share of all the work.
func (m *meter) stage(share float64) {
	m.before += m.share
	m.share, m.within = share, 0
}

// add says that another part of the stage, 0 to 1, is done.
func (m *meter) add(part float64) {
	if m == nil || m.report == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.within += part
	if now := time.Now(); now.Sub(m.last) >= reportEvery {
		m.last = now
		m.report(min(1, m.before+m.share*m.within))
	}
}

// finish reports that all is done, unless the last report was a moment ago.
func (m *meter) finish() {
	m.stage(0)
	m.add(0)
}
