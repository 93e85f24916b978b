package latest

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"testing/synctest"
	"time"
)

// desk stands for the window's goroutine: posted functions wait until it gets to them.
type desk struct{ in chan func() }

func (d desk) post(f func()) { d.in <- f }

func newDesk() desk { return desk{make(chan func(), 1000)} }

func (d desk) clear() {
	for {
		select {
		case f := <-d.in:
			f()
		default:
			return
		}
	}
}

// slowly takes as long as told, or until it is called off.
func slowly(d time.Duration) func(context.Context, int) (int, error) {
	return func(ctx context.Context, n int) (int, error) {
		select {
		case <-time.After(d):
			return n * n, nil
		case <-ctx.Done():
			return 0, ctx.Err()
		}
	}
}

func TestCancelShowsOnlyTheNewest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, shown := newDesk(), []int(nil)
		l := New(Cancel, d.post, slowly(time.Second), func(in, out int, err error) {
			if err != nil || out != in*in {
				t.Errorf("asked %d: got %d, %v", in, out, err)
			}
			shown = append(shown, in)
		})
		for n := range 50 {
			l.Ask(n)
			time.Sleep(20 * time.Millisecond)
			d.clear()
		}
		time.Sleep(2 * time.Second)
		synctest.Wait()
		d.clear()
		if len(shown) != 1 || shown[0] != 49 {
			t.Errorf("shown %v, want [49]", shown)
		}
	})
}

func TestFinishKeepsUpAndEndsRight(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, shown := newDesk(), []int(nil)
		l := New(Finish, d.post, slowly(30*time.Millisecond), func(in, out int, err error) { shown = append(shown, in) })
		for n := range 50 {
			l.Ask(n)
			time.Sleep(16 * time.Millisecond)
			d.clear()
		}
		time.Sleep(time.Second)
		synctest.Wait()
		d.clear()
		if len(shown) < 20 || shown[len(shown)-1] != 49 {
			t.Errorf("shown %v, want at least 20, the last one 49", shown)
		}
		for i := 1; i < len(shown); i++ {
			if shown[i] <= shown[i-1] {
				t.Errorf("out of order: %v", shown)
			}
		}
	})
}

// An answer that has been posted but not yet shown is overtaken by a newer request as well.
func TestCancelCallsOffWhatIsPosted(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, shown := newDesk(), []int(nil)
		l := New(Cancel, d.post, slowly(time.Millisecond), func(in, out int, err error) { shown = append(shown, in) })
		l.Ask(1)
		time.Sleep(time.Second) // worked out and posted, the desk has not got to it
		l.Ask(2)
		time.Sleep(time.Second)
		synctest.Wait()
		d.clear()
		if len(shown) != 1 || shown[0] != 2 {
			t.Errorf("shown %v, want [2]", shown)
		}
	})
}

func TestErrorsAreShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := newDesk()
		fault, got := errors.New("no wood"), error(nil)
		l := New(Finish, d.post, func(context.Context, int) (int, error) { return 0, fault }, func(_, _ int, err error) { got = err })
		l.Ask(1)
		synctest.Wait()
		d.clear()
		if got != fault {
			t.Errorf("got %v, want %v", got, fault)
		}
	})
}

func TestDropAndStopShowNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, shown := newDesk(), []int(nil)
		l := New(Finish, d.post, slowly(time.Second), func(in, _ int, _ error) { shown = append(shown, in) })
		l.Ask(1)
		l.Ask(2)
		l.Drop()
		synctest.Wait()
		d.clear()
		if l.Busy() {
			t.Error("busy after Drop")
		}
		l.Ask(3)
		time.Sleep(2 * time.Second)
		synctest.Wait()
		d.clear()
		l.Ask(4)
		l.Stop()
		l.Wait()
		l.Ask(5)
		time.Sleep(2 * time.Second)
		d.clear()
		if len(shown) != 1 || shown[0] != 3 {
			t.Errorf("shown %v, want [3]", shown)
		}
	})
}

// TestAnsweredRequestsAreLetGo: what was asked last may be a whole piece, which must not outlive its answer.
func TestAnsweredRequestsAreLetGo(t *testing.T) {
	queue := make(chan func(), 1)
	gone := make(chan struct{})
	l := New(Finish, func(f func()) { queue <- f }, func(context.Context, *[1 << 20]byte) (int, error) { return 0, nil },
		func(*[1 << 20]byte, int, error) {})
	func() {
		asked := new([1 << 20]byte)
		runtime.AddCleanup(asked, func(c chan struct{}) { close(c) }, gone)
		l.Ask(asked)
	}()
	(<-queue)()
	l.Wait()
	for tries := 0; ; tries++ {
		runtime.GC()
		select {
		case <-gone:
			runtime.KeepAlive(l)
			return
		case <-time.After(10 * time.Millisecond):
		}
		if tries == 500 {
			t.Fatal("the loop still holds what was asked")
		}
	}
}

// TestNeverMoreThanOneAnswerOnItsWay: a desk that is slow gets fewer answers, each the newest, and nothing piles up.
func TestNeverMoreThanOneAnswerOnItsWay(t *testing.T) {
	for _, m := range []Manner{Finish, Cancel} {
		synctest.Test(t, func(t *testing.T) {
			d, shown, begun := newDesk(), []int(nil), 0
			l := New(m, d.post, func(ctx context.Context, n int) (int, error) {
				begun++
				return slowly(time.Millisecond)(ctx, n)
			}, func(in, _ int, _ error) { shown = append(shown, in) })
			for n := range 1000 {
				l.Ask(n)
				time.Sleep(10 * time.Millisecond)
				if len(d.in) > 1 {
					t.Fatalf("%d answers are on their way at once", len(d.in))
				}
				if n%100 == 99 {
					d.clear()
				}
			}
			time.Sleep(time.Second)
			d.clear()
			time.Sleep(time.Second)
			d.clear()
			if n := len(shown); n < 9 || n > 22 || shown[n-1] != 999 {
				t.Errorf("manner %d: shown %v", m, shown)
			}
			if m == Finish && begun > len(shown) {
				t.Errorf("%d were drawn for %d that were shown", begun, len(shown))
			}
		})
	}
}

// TestWaitFinishesAll: called on the desk, which can't show anything meanwhile.
func TestWaitFinishesAll(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, did := newDesk(), []int(nil)
		l := New(Finish, d.post, func(_ context.Context, n int) (int, error) {
			time.Sleep(time.Second)
			did = append(did, n)
			return n, nil
		}, func(int, int, error) {})
		l.Ask(1)
		time.Sleep(2 * time.Second) // answered, but not shown
		l.Ask(2)
		l.Wait()
		if len(did) != 2 || l.Busy() {
			t.Errorf("did %v, busy %v", did, l.Busy())
		}
	})
}

// TestAPanicIsAnError, and the next request is taken as ever.
func TestAPanicIsAnError(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, faults, shown := newDesk(), 0, 0
		l := New(Cancel, d.post, func(_ context.Context, n int) (int, error) { return 10 / n, nil }, func(_, _ int, err error) {
			if err != nil {
				faults++
			} else {
				shown++
			}
		})
		for _, n := range []int{0, 5} {
			l.Ask(n)
			synctest.Wait()
			d.clear()
		}
		if faults != 1 || shown != 1 {
			t.Errorf("%d faults and %d answers, want one of each", faults, shown)
		}
	})
}

// TestWhatRestsIsReplaced before it is begun, in either manner; what is begun under Finish is not.
func TestWhatRestsIsReplaced(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, shown := newDesk(), []int(nil)
		l := New(Finish, d.post, slowly(time.Second), func(in, _ int, err error) {
			if err != nil {
				t.Error(err)
			}
			shown = append(shown, in)
		})
		l.AskAfter(300*time.Millisecond, 1)
		time.Sleep(200 * time.Millisecond)
		l.AskAfter(300*time.Millisecond, 2) // in the place of 1, which is still resting
		time.Sleep(400 * time.Millisecond)
		l.Ask(3) // after 2, which is in hand
		time.Sleep(time.Second)
		d.clear()
		if len(shown) != 1 || shown[0] != 2 {
			t.Errorf("shown %v, want 2 alone", shown)
		}
		time.Sleep(2 * time.Second)
		d.clear()
		if len(shown) != 2 || shown[1] != 3 {
			t.Errorf("shown %v, want 2 and 3", shown)
		}
		l.Stop()
	})
}
