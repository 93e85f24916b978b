package proof

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
)

// batch is the bench of these tests as it is looked at; each program takes a fifth longer than at the speeds told.
func batch(t testing.TB) *Batch {
	t.Helper()
	w := wanted()
	l, m := usual()
	b := &Batch{Number: 1, Blank: w.Blank, Skim: w.Skim, Dowels: w.Dowels, Clamps: l.Clamps, Machine: m, Rapid: [2]float64{5000, 2000}}
	b.Programs = written(t, programs(), m)
	b.Proof = prove(t, w, l, m, b.Programs)
	for _, f := range b.Proof.Figures {
		b.Minutes = append(b.Minutes, 1.2*f.Minutes)
	}
	return b
}

func course(t testing.TB, b *Batch, step float64) *Course {
	t.Helper()
	c, err := NewCourse(context.Background(), b, step, func(float64) {})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// proven is the board after a proof of the first so many programs.
func proven(t testing.TB, b *Batch, programs int) *board {
	t.Helper()
	w := wanted()
	l, m := usual()
	p := &prover{ctx: context.Background(), want: w, limits: l, machine: m, board: newBoard(w), out: &Proof{}, worst: map[seat]int{}, bitten: map[int]int32{}}
	for i := range programs {
		if err := p.program(&b.Programs[i]); err != nil {
			t.Fatal(err)
		}
	}
	return p.board
}

// The board at the end of each program is the proof's, column by column: the same columns, or every second of them.
func TestCourseEndsAsTheProof(t *testing.T) {
	b := batch(t)
	for _, every := range []int{1, 2} {
		c := course(t, b, float64(every)*step)
		for n := range b.Programs {
			_, ends := c.Span(n)
			want := proven(t, b, n+1)
			var r Relief
			m := c.At(math.Nextafter(ends, 0))
			if err := c.Wood(context.Background(), m, &r); err != nil {
				t.Fatal(err)
			}
			if m.Program != n || r.Side != want.side || r.W != (want.want.W-1)/every+1 || r.H != (want.want.H-1)/every+1 {
				t.Fatalf("program %d: %d columns by %d with side %v up, of program %d", n, r.W, r.H, r.Side, m.Program)
			}
			dowels := 0
			for j := range r.H {
				for i := range r.W {
					k := j*every*want.want.W + i*every
					at := j*r.W + i
					if want.kind[k] == dowel && n == 0 { // the proof has let them stand in their holes
						dowels++
						continue
					}
					top, floor := r.Top[at], r.Floor[at]
					if wood := top > floor; wood != (want.top[k] > want.floor[k]) || wood && (top != want.top[k] || floor != want.floor[k]) {
						t.Fatalf("every %d, program %d, column %d, %d: from %d to %d, want %d to %d", every, n, i, j, floor, top, want.floor[k], want.top[k])
					}
				}
			}
			if n == 0 && dowels == 0 {
				t.Error("there are no dowels")
			}
		}
	}
}

// However one comes to a moment, the board is the same there.
func TestCourseAnyWay(t *testing.T) {
	c := course(t, batch(t), 2*step)
	rng := rand.New(rand.NewPCG(1, 2))
	var kept Relief
	at := 0.0
	for range 60 {
		switch rng.IntN(3) {
		case 0:
			at = rng.Float64() * c.Minutes()
		case 1:
			at = min(at+rng.Float64()*0.05, c.Minutes())
		case 2:
			at = max(at-rng.Float64()*0.01, 0)
		}
		var fresh Relief
		m := c.At(at)
		for _, r := range []*Relief{&kept, &fresh} {
			if err := c.Wood(context.Background(), m, r); err != nil {
				t.Fatal(err)
			}
		}
		for i := range fresh.Top {
			if fresh.Top[i] != kept.Top[i] || fresh.Floor[i] != kept.Floor[i] {
				t.Fatalf("minute %g: column %d is %d, and %d from the start", at, i, kept.Top[i], fresh.Top[i])
			}
		}
	}
	whole := carvedBy(c, c.At(at))
	for i, z := range whole {
		if z != kept.Top[i] {
			t.Fatalf("minute %g: column %d is %d, and %d without any board kept", at, i, kept.Top[i], z)
		}
	}
}

// carvedBy is the board at a moment, carved from the start.
func carvedBy(c *Course, m Moment) []int16 {
	b := newBoard(c.batch.bare(c.step[0]))
	for n := 0; n <= m.leg; n++ {
		l := c.legs[n]
		of := c.batch.Programs[l.program].For
		if b.side != of.Side {
			b.turn()
		}
		cut := carver{board: b, sweep: newSweep(of.Cutter, b.want)}
		from := l.start
		for i := l.first; i < l.past; i++ {
			if n == m.leg && i == m.move {
				cut.move(from, &move{to: m.over, rapid: m.Rapid})
				break
			}
			cut.move(from, &c.moves[i])
			from = c.moves[i].to
		}
		if n == 0 {
			b.stand()
		}
	}
	return b.top
}

// The clock: it ends with the minutes that the programs take, each begins where the one before ends, the cutter goes from place
// to place without a jump, and lines are stepped one by one there and back.
func TestCourseClock(t *testing.T) {
	b := batch(t)
	c := course(t, b, 4)
	sum := 0.0
	for n, takes := range b.Minutes {
		begins, ends := c.Span(n)
		if math.Abs(begins-sum) > 1e-9 || math.Abs(ends-begins-takes) > 1e-9 {
			t.Errorf("program %d goes from %g to %g, want %g to %g", n, begins, ends, sum, sum+takes)
		}
		sum += takes
	}
	if math.Abs(c.Minutes()-sum) > 1e-9 {
		t.Errorf("all take %g minutes, want %g", c.Minutes(), sum)
	}
	_, begins := c.Span(0)
	at, last := begins, c.At(begins)
	for range 300 {
		next := c.Stepped(at, 1)
		m := c.At(math.Nextafter(next, 0))
		if !(next > at) || m.Line <= last.Line && m.Program == last.Program && m.File == last.File && m.Line != last.Line {
			t.Fatalf("a line after minute %g, line %d, is minute %g, line %d", at, last.Line, next, m.Line)
		}
		if back := c.Stepped(next, -1); math.Abs(back-at) > 1e-9 {
			t.Fatalf("a line on from minute %g and back is %g", at, back)
		}
		if half := c.Stepped((at+next)/2, -1); math.Abs(half-at) > 1e-9 {
			t.Fatalf("back from the middle of a line is minute %g, want %g", half, at)
		}
		if half := c.Stepped((at+next)/2, 1); math.Abs(half-next) > 1e-9 {
			t.Fatalf("on from the middle of a line is minute %g, want %g", half, next)
		}
		middle := c.At((at + next) / 2)
		way := m.At.Sub(c.At(at).At)
		if off := middle.At.Sub(c.At(at).At.Add(way.Scale(0.5))).Len(); off > 1e-6 {
			t.Fatalf("half way between minutes %g and %g the cutter is %g mm off", at, next, off)
		}
		at, last = next, m
	}
	if got := c.Stepped(0, -1); got != 0 {
		t.Errorf("before the first line is minute %g", got)
	}
	if got := c.Stepped(c.Minutes(), 3); got != c.Minutes() {
		t.Errorf("after the last line is minute %g of %g", got, c.Minutes())
	}
}

// A line is found by its file and number, and the cutter is then at its end.
func TestCourseWhen(t *testing.T) {
	b := batch(t)
	c := course(t, b, 4)
	for n, w := range b.Programs {
		f := w.Files[0]
		for line := 30; line < 60; line++ {
			i, ok := f.MoveOf(line)
			if !ok {
				continue
			}
			minute, found := c.When(f.Name, line)
			m := c.At(math.Nextafter(minute, 0))
			want := w.For.Moves[i].To
			if !found || m.Program != n || m.Line != line || m.At.Sub(want).Len() > 0.01 || m.Rapid != w.For.Moves[i].Rapid() {
				t.Fatalf("line %d of %s is minute %g: %+v, want at %v", line, f.Name, minute, m, want)
			}
		}
	}
	if _, ok := c.When("another.nc", 3); ok {
		t.Error("a file that there is not was found")
	}
}

// The way to a moment ends where the way from it begins, and is as long as was asked for.
func TestCourseWay(t *testing.T) {
	c := course(t, batch(t), 4)
	begins, ends := c.Span(1)
	m := c.At((begins + ends) / 2)
	gone, coming := c.Way(m, 200, 100)
	here := geom.Vec2{X: m.At.X, Y: m.At.Y}
	if len(gone) == 0 || len(coming) == 0 || gone[len(gone)-1].To != here || coming[0].From != here {
		t.Fatalf("%d strokes to %v, %d from it", len(gone), here, len(coming))
	}
	rapids := 0
	for _, all := range [][]Stroke{gone, coming} {
		for i, s := range all {
			if i > 0 && s.From != all[i-1].To {
				t.Fatalf("stroke %d begins at %v, the one before ends at %v", i, s.From, all[i-1].To)
			}
			if s.Rapid {
				rapids++
			}
		}
	}
	if rapids == 0 {
		t.Error("no stroke is fast")
	}
}

// Called off, it says so.
func TestCourseCalledOff(t *testing.T) {
	ctx, off := context.WithCancel(context.Background())
	off()
	b := batch(t)
	if _, err := NewCourse(ctx, b, 4, func(float64) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("called off it gave %v", err)
	}
	if _, err := NewCourse(context.Background(), &Batch{}, 4, func(float64) {}); err == nil {
		t.Error("without programs there is a course")
	}
}

func BenchmarkCourse(b *testing.B) {
	of := batch(b)
	for b.Loop() {
		course(b, of, 0.6)
	}
}

// BenchmarkMoment goes to moments all over the work.
func BenchmarkMoment(b *testing.B) {
	c := course(b, batch(b), 0.6)
	rng := rand.New(rand.NewPCG(3, 4))
	var r Relief
	for b.Loop() {
		if err := c.Wood(context.Background(), c.At(rng.Float64()*c.Minutes()), &r); err != nil {
			b.Fatal(err)
		}
	}
}
