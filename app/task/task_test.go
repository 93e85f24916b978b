package task

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"
	"testing/synctest"
	"time"

	"grainstack/app/latest"
)

// desk stands for the window's goroutine.
type desk struct{ in chan func() }

func (d desk) clear() {
	for {
		synctest.Wait()
		select {
		case f := <-d.in:
			f()
		default:
			return
		}
	}
}

func slowly(ctx context.Context, n int, tell Report[int]) (int, error) {
	tell.Progress("counting", 0.5)
	tell.Early(-n)
	select {
	case <-time.After(time.Duration(n%7+1) * time.Second):
	case <-ctx.Done():
		return 0, ctx.Err()
	}
	if n%10 == 9 {
		return 0, errors.New("nine is too much")
	}
	return n * n, nil
}

// TestOnlyWhatIsWantedIsTaken, whatever is wanted, dropped, called off and gone on with in between, in what order ever.
func TestOnlyWhatIsWantedIsTaken(t *testing.T) {
	for seed := range uint64(200) {
		synctest.Test(t, func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 1))
			d := desk{make(chan func(), 1000)}
			wanted, off := -1, false
			var k *Task[int, int, int]
			var at Status[int]
			post := func(f func()) { d.in <- f }
			desk := Desk{Post: post, Say: post, Changed: func() {}, Told: func() {}}
			k = New(latest.Cancel, desk, &at, slowly, func(n, square int, err error) {
				if n != wanted || off {
					t.Fatalf("seed %d: took %d while %d is wanted, called off %v", seed, n, wanted, off)
				}
				if (err != nil) != (n%10 == 9) || err == nil && square != n*n {
					t.Fatalf("seed %d: %d came to %d, %v", seed, n, square, err)
				}
			})
			k.Early(func(n, early int) {
				if n != wanted || off || early != -n {
					t.Fatalf("seed %d: told early of %d, %d, while %d is wanted, called off %v", seed, n, early, wanted, off)
				}
			})
			for range 60 {
				switch r.IntN(6) {
				case 0, 1:
					n := r.IntN(30)
					off = off && n == wanted
					wanted = n
					k.Want(n, time.Duration(r.IntN(3))*time.Second, n)
				case 2:
					k.Drop()
					wanted, off = -1, false
				case 3:
					off = k.CallOff() || off
				case 4:
					k.GoOn()
					off = false
				case 5:
					d.clear()
				}
				time.Sleep(time.Duration(r.IntN(4000)) * time.Millisecond)
				if off != (k.State() == Off) {
					t.Fatalf("seed %d: called off %v, state %v", seed, off, k.State())
				}
			}
			k.GoOn()
			off = false
			for range 3 {
				time.Sleep(10 * time.Second)
				d.clear()
			}
			want := Done
			switch {
			case wanted < 0:
				want = Idle
			case wanted%10 == 9:
				want = Failed
			}
			if k.State() != want || k.Busy() {
				t.Errorf("seed %d: at last %d is wanted, and its state is %v, busy %v", seed, wanted, k.State(), k.Busy())
			}
			k.Stop()
		})
	}
}

// TestWhatIsFinishedIsTakenInOrder: under Finish what was begun is taken too, though something else is wanted by then; what
// nobody wants at all any more is not.
func TestWhatIsFinishedIsTakenInOrder(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := desk{make(chan func(), 1000)}
		post := func(f func()) { d.in <- f }
		var at Status[int]
		var taken []int
		changed := 0
		k := New(latest.Finish, Desk{Post: post, Say: post, Changed: func() { changed++ }, Told: func() {}}, &at, slowly, func(n, _ int, err error) {
			if err != nil {
				t.Error(err)
			}
			taken = append(taken, n)
		})
		for n := range 3 {
			k.Want(n, 0, n)
			time.Sleep(100 * time.Millisecond)
		}
		for range 3 {
			time.Sleep(10 * time.Second)
			d.clear()
		}
		if len(taken) != 2 || taken[0] != 0 || taken[1] != 2 || at.Of(2) != Done || changed != 2 {
			t.Errorf("taken %v, the last is %v, followed %d times", taken, at.Of(2), changed)
		}
		k.Want(4, 0, 4)
		k.Drop()
		time.Sleep(10 * time.Second)
		d.clear()
		if len(taken) != 2 || at.State != Idle {
			t.Errorf("dropped, but taken %v", taken)
		}
		k.Stop()
	})
}
