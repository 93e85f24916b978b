package stoptest

import (
	"context"
	"errors"
	"testing"
	"time"
)

// moments are the shares of the work at which it is called off.
var moments = [...]float64{0, 0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9}

// tries is how often it is called off at each moment; the best counts, since a garbage collection may fall into any.
const tries = 3

// glance is how often the one who calls off looks at the clock.
const glance = time.Millisecond

// unnoticed is processor time that no hand notices: work that ends within it has ended at once, however short the whole is.
const unnoticed = 50 * time.Millisecond

// Soon calls work off at moments spread over it. At each it must end with context.Canceled, and after the call take at most
// a share of the processor time of the whole work, or what no hand notices.
func Soon(t *testing.T, share float64, work func(context.Context) error) {
	t.Helper()
	begun := CPU()
	if err := work(context.Background()); err != nil {
		t.Fatal(err)
	}
	whole := CPU() - begun
	most := max(unnoticed, time.Duration(share*float64(whole)))
	for _, moment := range moments {
		best, err := bestOff(time.Duration(moment*float64(whole)), most, work)
		if err != nil {
			t.Errorf("called off at %.0f %%: %v", 100*moment, err)
		}
		t.Logf("called off at %.0f %% of %v, it took another %v", 100*moment, whole, best)
		if best > most {
			t.Errorf("called off at %.0f %% of %v, it took another %v, more than %v", 100*moment, whole, best, most)
		}
	}
}

// After calls work off that would take very long, once it has taken so much processor time; from there it may take at most so
// much.
func After(t *testing.T, after, most time.Duration, work func(context.Context) error) {
	t.Helper()
	best, err := bestOff(after, most, work)
	if err != nil || best > most {
		t.Errorf("called off after %v, it took another %v: %v", after, best, err)
	}
}

// bestOff is the least time that work takes on after it was called off, of some tries; one that is quick enough will do.
func bestOff(after, enough time.Duration, work func(context.Context) error) (best time.Duration, err error) {
	for n := range tries {
		late, err := off(after, work)
		if err != nil {
			return 0, err
		}
		if n == 0 || late < best {
			best = late
		}
		if best <= enough {
			break
		}
	}
	return best, nil
}

// off calls work off once it has taken so much processor time, and says how much it takes from there; none where it has ended
// before.
func off(after time.Duration, work func(context.Context) error) (late time.Duration, err error) {
	ctx, cancel := context.WithCancel(context.Background())
	ended, called := make(chan struct{}), make(chan time.Duration, 1)
	begun := CPU()
	go func() {
		defer close(called)
		for CPU()-begun < after {
			select {
			case <-ended:
				return
			case <-time.After(glance):
			}
		}
		called <- CPU()
		cancel()
	}()
	err = work(ctx)
	close(ended)
	end := CPU()
	at, ok := <-called
	cancel()
	switch {
	case !ok || err == nil: // it has ended before
		return 0, err
	case !errors.Is(err, context.Canceled):
		return 0, err
	}
	return end - at, nil
}
