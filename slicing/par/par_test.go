package par_test

import (
	"bytes"
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"grainstack/slicing/par"
)

// TestSpansCoverOnce: every place is done once, in the same spans whatever the size of the loop.
func TestSpansCoverOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 64, 1000} {
		for _, size := range []int{0, 1, 3, 64, 5000} {
			done := make([]int32, n)
			var mu sync.Mutex
			var starts []int
			err := par.Spans(context.Background(), n, size, func(from, to int) {
				if to-from > max(size, 1) {
					t.Errorf("n %d, size %d: a span of %d", n, size, to-from)
				}
				for i := from; i < to; i++ {
					atomic.AddInt32(&done[i], 1)
				}
				mu.Lock()
				starts = append(starts, from)
				mu.Unlock()
			})
			if err != nil {
				t.Fatal(err)
			}
			slices.Sort(starts)
			for i, s := range starts {
				if s != i*max(size, 1) {
					t.Errorf("n %d, size %d: span %d begins at %d", n, size, i, s)
				}
			}
			for i, k := range done {
				if k != 1 {
					t.Errorf("n %d, size %d: place %d was done %d times", n, size, i, k)
				}
			}
		}
	}
}

// TestWorkersDoNotMeet: two calls with the same worker never run at once.
func TestWorkersDoNotMeet(t *testing.T) {
	busy := make([]atomic.Bool, par.Count())
	err := par.Workers(context.Background(), 10_000, 1, func(worker, _, _ int) {
		if busy[worker].Swap(true) {
			t.Errorf("worker %d is at work twice", worker)
		}
		busy[worker].Store(false)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestCalledOff: a loop that is called off stops and says so.
func TestCalledOff(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	var n atomic.Int32
	err := par.Spans(ctx, 1_000_000, 1, func(int, int) {
		if n.Add(1) == 10 {
			stop()
		}
	})
	if err == nil || n.Load() > 100 {
		t.Errorf("called off after 10 spans, %d were done, error %v", n.Load(), err)
	}
}

// TestOnly: held to one goroutine no two spans run at once, and each is done.
func TestOnly(t *testing.T) {
	var running, most, done atomic.Int32
	err := par.Workers(par.Only(context.Background(), 1), 200, 1, func(worker, _, _ int) {
		if n := running.Add(1); n > most.Load() {
			most.Store(n)
		}
		if worker != 0 {
			t.Errorf("worker %d of one", worker)
		}
		done.Add(1)
		running.Add(-1)
	})
	if err != nil || most.Load() != 1 || done.Load() != 200 {
		t.Errorf("%d at once, %d of 200 done: %v", most.Load(), done.Load(), err)
	}
}

// TestPanicsReachTheCaller: a panic in a span, and in a loop within a loop, comes out where the loop was called, with the place, and no
// more spans are begun.
func TestPanicsReachTheCaller(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	var done atomic.Int32
	loop := func() {
		_ = par.Spans(context.Background(), 1_000_000, 1, func(from, _ int) {
			done.Add(1)
			time.Sleep(time.Microsecond)
			if from == 5 {
				_ = par.Spans(context.Background(), 8, 1, func(int, int) { panic("a slip") })
			}
		})
	}
	slipped(t, loop)
	if n := done.Load(); n > 100_000 {
		t.Errorf("%d spans were begun after the slip", n)
	}
	slipped(t, func() { par.Begin(func() int { panic("a slip") })() })
	if got := par.Begin(func() int { return 7 })(); got != 7 {
		t.Errorf("7 came back as %d", got)
	}
}

// slipped wants a function to panic with the fault of one of its goroutines.
func slipped(t *testing.T, do func()) {
	t.Helper()
	defer func() {
		t.Helper()
		fault, ok := recover().(*par.Fault)
		if !ok || fault.Error() != "a slip" || !bytes.Contains(fault.Stack, []byte("par_test.go")) {
			t.Errorf("the caller got %v", fault)
		}
	}()
	do()
}
