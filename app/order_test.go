package app

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// bent is a spindle bent round until its ends stick in one another: one closed shell that runs through itself. It passes for
// clean until it has been looked at closely, so that all that follows is begun for the scan as it was read.
func bent() *job.Piece {
	const long, round, thick = 60.0, 24.0, 5.0
	m := solidtest.Ellipsoid(long, thick, thick, 400)
	for i, p := range m.Points {
		sin, cos := math.Sincos(float64(p[0]) / long * 1.25 * math.Pi)
		out := round - float64(p[1])
		m.Points[i] = mesh.Point{float32(out * cos), float32(out * sin), p[2]}
	}
	return job.NewPiece("bent", m, mesh.Raw{})
}

// An answer is one that waits until the test hands it on.
type answer struct {
	work string
	f    func()
}

// works are the kinds of long work whose answers the test orders.
var works = []string{"survey", "mend", "hollow", "stand", "settle", "reach", "shop"}

// newHeld is a rig that has just been told to open a piece, whose answers wait for handOn.
func newHeld(t *testing.T, p *job.Piece) (*rig, chan answer) {
	r, queue := &rig{t: t, queue: make(chan func())}, make(chan answer, 1000)
	r.lay(p, func(work string, f func()) { queue <- answer{work, f} })
	for _, pictures := range r.drawers {
		pictures.Stop() // nothing hangs on them
	}
	return r, queue
}

// handOn hands all answers on until none is left: whenever everything has come to rest, the one that stands first in the order
// is taken; pictures and the like go before them all. Before each answer of long work, from the piece on, before is called.
func (r *rig) handOn(queue chan answer, order []string, before func(n int)) {
	r.t.Helper()
	var all []answer
	for n, late := 0, time.Now().Add(patience); ; {
		for working := true; working; {
			working = false
			for _, one := range r.workers() {
				working = working || one.Busy()
			}
			time.Sleep(2 * time.Millisecond)
			if time.Now().After(late) {
				r.t.Fatal("the work has no end")
			}
		}
		for len(queue) > 0 {
			all = append(all, <-queue)
		}
		if len(all) == 0 {
			return
		}
		next := 0
		for i, h := range all {
			if slices.Index(order, h.work) < slices.Index(order, all[next].work) {
				next = i
			}
		}
		one := all[next]
		all = slices.Delete(all, next, next+1)
		if one.work != "" && r.bench.Model != nil {
			before(n)
			n++
		}
		one.f()
	}
}

// result is what the window has come to, in words that can be compared.
func (r *rig) result() string {
	s := r.cardState()
	var b strings.Builder
	fmt.Fprintf(&b, "mended %v (%q), rebuilt %v, solid %v, ", r.bench.Model.Key == state.MendKeyOf(s.Piece, s.Settings), s.Mend.Fault, s.Piece.Mended.Rebuilt, s.Piece.Solid())
	fmt.Fprintf(&b, "hollow %v, stands %v with it %v, ", r.bench.Model.Grid != nil, r.bench.Stands(), r.bench.Standing.Grid == r.bench.Model.Grid)
	fmt.Fprintf(&b, "settled %v, core %v, %.4f kg, %.2f min, stale %v, ", s.Figures.Settled, s.Figures.CoreKnown, s.Figures.Totals.WeightKg, s.Figures.Totals.RouterMin(), s.Stale)
	fmt.Fprintf(&b, "reach %v, workshop %v, found %d, crossings %v, ", s.Carving.Reached != nil, s.Workshop != nil && s.Workshop.Improved, len(s.Mend.Survey.List), s.Mend.Survey.Crossings)
	fmt.Fprintf(&b, "at work %v, off %q, foot %q", s.Mend.Busy, r.tasks.wordsOff(), r.margin.working.Text())
	return b.String()
}

// waitsForEver is what is neither there, nor off, nor waits for something that is: it would be told to be in hand for good.
func (r *rig) waitsForEver() (all []string) {
	s := r.cardState()
	off := r.tasks.wordsOff() != ""
	add := func(what string, lacks, excused bool) {
		if lacks && !excused {
			all = append(all, what)
		}
	}
	add("the survey", s.Mend.Survey == nil, s.Off.Survey)
	add("the mending", s.Mend.Busy, false)
	add("the mending's fault", r.bench.Tasks.Mend.State == task.Off, s.Mend.Fault != "")
	add("the hollow", !s.Figures.CoreKnown, s.Off.Hollow)
	add("the reach", s.Carving.Reached == nil, s.Off.Reach)
	add("the workshop", s.Workshop == nil, s.Off.Shop || s.Off.Reach)
	add("the foot", off != strings.HasPrefix(r.margin.working.Text(), "called off: ") || off != r.margin.stop.Visible(), false)
	return all
}

// TestAnyOrderOfAnswersEndsTheSame, and so does calling off before any of them and going on by a click.
func TestAnyOrderOfAnswersEndsTheSame(t *testing.T) {
	raw := bent()
	if !raw.Solid() || raw.Findings.Shells != 1 {
		t.Fatalf("the piece is no trap: %+v", raw.Findings)
	}
	orders := [][]string{works, {"hollow", "stand", "settle", "reach", "shop", "survey", "mend"}}
	if !testing.Short() {
		for i := range works { // each first, and each last
			first := append([]string{works[i]}, slices.Delete(slices.Clone(works), i, i+1)...)
			last := slices.Clone(first)
			slices.Reverse(last)
			if i > 0 { // else it is the first of all
				orders = append(orders, first)
			}
			orders = append(orders, last)
		}
	}
	want := ""
	same := func(t *testing.T, r *rig) {
		t.Helper()
		got := r.result()
		if want == "" {
			want = got
			t.Log(got)
		}
		if got != want {
			t.Errorf("it ends as\n%s, want\n%s", got, want)
		}
	}
	answers := make([]int, len(orders)) // how many each order has
	for i, order := range orders {
		t.Run(strings.Join(order, " "), func(t *testing.T) {
			r, queue := newHeld(t, raw)
			r.handOn(queue, order, func(n int) { answers[i] = n + 1 })
			same(t, r)
		})
	}
	if !strings.Contains(want, "mended true (\"\"), rebuilt false, solid true, hollow true, stands true with it true, settled true, core true") ||
		!strings.Contains(want, "stale false, reach true, workshop true") || !strings.Contains(want, "crossings true, at work false, off \"\", foot \"\"") {
		t.Errorf("it ends as %s", want)
	}
	for i, order := range orders[:2] {
		for at := range answers[i] {
			if testing.Short() && at != 2 {
				continue
			}
			t.Run(fmt.Sprintf("%s, called off before %d", strings.Join(order, " "), at), func(t *testing.T) {
				r, queue := newHeld(t, raw)
				r.handOn(queue, order, func(n int) {
					if n == at {
						r.run("cancel")
					}
				})
				if all := r.waitsForEver(); len(all) > 0 {
					t.Errorf("for good in hand is said to be %v; %s", all, r.result())
				}
				for r.tasks.wordsOff() != "" {
					test.Tap(r.margin.stop)
					r.handOn(queue, order, func(int) {})
				}
				same(t, r)
			})
		}
	}
}
