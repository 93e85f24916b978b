package proof

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
)

// A Course is the work that the programs of a panel do, minute by minute: where the cutter is and what the board looks like. It
// is for looking at: its columns are wider than those of a proof, and it finds no fault. It never changes.
type Course struct {
	batch *Batch
	legs  []leg
	moves []move
	kept  []kept // boards on the way, one at least at the start of each leg
	w, h  int
	step  [2]float64 // how far columns lie apart
}

// A leg is one file of a program.
type leg struct {
	program, file int
	first, past   int // its moves
	start         geom.Vec
	begins, ends  float64 // minutes from the start of the first program
	opens         float64 // minutes of its program before it
}

// A move is one straight move as the panel lies for its leg, Z above the bed.
type move struct {
	to    geom.Vec
	ends  float64 // minutes from the start of its leg
	line  int32
	rapid bool
}

// A kept is a board before a move. Runs of columns that no move has touched since the one before are its.
type kept struct {
	move  int
	leg   int
	runs  [][]int16 // where the columns' wood ends
	floor []int16   // and begins
}

const (
	// run is how many columns are kept together.
	run = 4096
	// between is how many columns may be looked at from one kept board to a moment: a few hundredths of a second.
	between = 1_500_000
	// mostKept is how many boards are kept at the most; with more, they lie further apart.
	mostKept = 160
)

// NewCourse carries programs out on columns about step mm apart. tell is told the share that is done.
func NewCourse(ctx context.Context, b *Batch, step float64, tell func(share float64)) (*Course, error) {
	if !(step > 0) || !(b.Blank.Board > 0 && b.Blank.Board <= mostHeight) || len(b.Minutes) != len(b.Programs) || len(b.Programs) == 0 {
		return nil, errors.New("there are no programs to look at")
	}
	w := b.bare(step)
	c := &Course{batch: b, w: w.W, h: w.H, step: [2]float64{w.StepX, w.StepY}}
	for i := range b.Programs {
		if err := c.read(i); err != nil {
			return nil, err
		}
	}
	return c, c.carve(ctx, w, tell)
}

// read adds the moves of a program.
func (c *Course) read(number int) error {
	b := c.batch
	of, first := b.Programs[number], len(c.legs)
	o := b.Machine.Origin(b.Blank, of.For.Dowels)
	o.Z += b.Blank.Board
	raw := 0.0
	for k, f := range of.Files {
		got, err := rs274.Read(f.Text, geom.Vec{}, b.Machine.Own()...)
		if err != nil {
			return err
		}
		l := leg{program: number, file: k, first: len(c.moves), opens: raw}
		minutes := 0.0
		c.moves = slices.Grow(c.moves, len(got.Moves))
		for i, m := range got.Moves {
			if i == 0 {
				l.start = m.From.Add(o)
			}
			minutes += b.minutes(&m)
			c.moves = append(c.moves, move{m.To.Add(o), minutes, int32(m.Line), m.Feed == 0})
		}
		l.past = len(c.moves)
		raw += minutes
		c.legs = append(c.legs, l)
	}
	c.time(first, raw, b.Minutes[number])
	return nil
}

// minutes is how long a move takes at the speeds told.
func (b *Batch) minutes(m *rs274.Move) float64 {
	way := m.To.Sub(m.From)
	if m.Feed > 0 {
		return way.Len() / m.Feed
	}
	t := 0.0
	if b.Rapid[0] > 0 {
		t = math.Hypot(way.X, way.Y) / b.Rapid[0]
	}
	if b.Rapid[1] > 0 {
		t = max(t, math.Abs(way.Z)/b.Rapid[1])
	}
	return t
}

// time stretches a program's legs, which take so many minutes at the speeds told, to those that it takes: a machine speeds up and
// slows down at every corner.
func (c *Course) time(first int, raw, takes float64) {
	k, at := 1.0, 0.0
	if raw > 0 && takes > 0 {
		k = takes / raw
	}
	if first > 0 {
		at = c.legs[first-1].ends
	}
	for i := first; i < len(c.legs); i++ {
		l := &c.legs[i]
		long := 0.0
		for n := l.first; n < l.past; n++ {
			c.moves[n].ends *= k
			long = c.moves[n].ends
		}
		l.opens *= k
		l.begins, l.ends = at, at+long
		at = l.ends
	}
}

// carve goes through all moves once and keeps boards on the way.
func (c *Course) carve(ctx context.Context, w *Wanted, tell func(share float64)) error {
	b := newBoard(w)
	drills := c.batch.Programs[0].For.Step == program.Holes
	if !drills {
		b.stand()
	}
	cut := carver{board: b}
	spare, last := between, 0
	for n := range c.legs {
		l := &c.legs[n]
		if last != l.program && drills && last == 0 {
			b.stand()
		}
		last = l.program
		if side := c.batch.Programs[l.program].For.Side; b.side != side {
			b.turn()
		}
		cut.sweep = newSweep(c.batch.Programs[l.program].For.Cutter, w)
		cut.seen = 0
		c.keep(l.first, n, b)
		from := l.start
		for i := l.first; i < l.past; i++ {
			if i&1023 == 0 {
				if err := ctx.Err(); err != nil {
					return err
				}
				tell(float64(i) / float64(len(c.moves)))
			}
			if cut.seen > spare {
				cut.seen = 0
				if c.keep(i, n, b); len(c.kept) > mostKept {
					c.thin()
					spare *= 2
				}
			}
			cut.move(from, &c.moves[i])
			from = c.moves[i].to
		}
	}
	tell(1)
	return ctx.Err()
}

// keep keeps the board before a move.
func (c *Course) keep(i, of int, b *board) {
	k := kept{move: i, leg: of}
	var last *kept
	if n := len(c.kept); n > 0 {
		last = &c.kept[n-1]
	}
	for at, n := 0, 0; at < len(b.top); at, n = at+run, n+1 {
		now := b.top[at:min(at+run, len(b.top))]
		if last != nil && slices.Equal(now, last.runs[n]) {
			k.runs = append(k.runs, last.runs[n])
		} else {
			k.runs = append(k.runs, slices.Clone(now))
		}
	}
	if k.floor = b.floor; last == nil || !slices.Equal(b.floor, last.floor) {
		k.floor = slices.Clone(b.floor)
	} else {
		k.floor = last.floor
	}
	c.kept = append(c.kept, k)
}

// thin lets every other board go that is not the first of its leg.
func (c *Course) thin() {
	out, odd := c.kept[:0], false
	for _, k := range c.kept {
		if odd = !odd; odd || k.move == c.legs[k.leg].first {
			out = append(out, k)
		}
	}
	clear(c.kept[len(out):])
	c.kept = out
}

// A carver cuts moves out of a board without looking for faults.
type carver struct {
	board *board
	sweep sweep
	seen  int // columns that were looked at
}

// move cuts a move; a rapid cuts nothing.
func (k *carver) move(from geom.Vec, m *move) {
	b := k.board
	if m.rapid || min(from.Z, m.to.Z) >= b.want.Blank.Board {
		return
	}
	k.sweep.along(from, m.to)
	k.sweep.visit(stretch{whole: true, beyond: 2 * k.sweep.radius}, func(n int, z int32) {
		k.seen++
		if z < int32(b.top[n]) {
			b.top[n] = int16(max(z, -32000))
		}
	})
}

// Minutes is how long all programs take, one after another.
func (c *Course) Minutes() float64 { return c.legs[len(c.legs)-1].ends }

// Span is when a program begins and ends, in minutes from the start of the first.
func (c *Course) Span(number int) (begins, ends float64) {
	begins = -1
	for _, l := range c.legs {
		if l.program == number {
			if begins < 0 {
				begins = l.begins
			}
			ends = l.ends
		}
	}
	return max(begins, 0), ends
}
