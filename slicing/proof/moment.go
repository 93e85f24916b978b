package proof

import (
	"context"
	"slices"
	"sort"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// A Moment is where the work has come to in a minute.
type Moment struct {
	Program, File, Line int // line from 1, 0 where the program has no moves
	Side                panel.Face
	Cutter              stock.Cutter
	At                  geom.Vec // of the tip, as the panel lies for the side, Z from the face that lies up
	Rapid               bool     // it moves as fast as the machine can
	Minute              float64  // of its program

	leg, move int
	over      geom.Vec // the place above the bed
}

// At is the moment of a minute from the start of the first program; before it is the first, after the last is the last.
func (c *Course) At(minute float64) Moment {
	n := sort.Search(len(c.legs)-1, func(i int) bool { return minute < c.legs[i].ends })
	l := &c.legs[n]
	into := max(0, minute-l.begins)
	i := l.first + sort.Search(max(0, l.past-l.first-1), func(i int) bool { return into < c.moves[l.first+i].ends })
	return c.moment(n, i, into)
}

// moment is within move i of a leg, so many minutes into the leg.
func (c *Course) moment(n, i int, into float64) Moment {
	l := &c.legs[n]
	of := c.batch.Programs[l.program].For
	m := Moment{Program: l.program, File: l.file, Side: of.Side, Cutter: of.Cutter, leg: n, move: i, Minute: l.opens + into, over: l.start}
	if l.past > l.first {
		from, began := c.before(n, i)
		now := &c.moves[i]
		m.Line, m.Rapid, m.over = int(now.line), now.rapid, now.to
		if long := now.ends - began; long > 0 && into < now.ends {
			m.over = from.Add(now.to.Sub(from).Scale((into - began) / long))
		}
	}
	m.At = m.over
	m.At.Z -= c.batch.Blank.Board
	return m
}

// before is where and when move i of a leg begins.
func (c *Course) before(n, i int) (from geom.Vec, began float64) {
	if l := &c.legs[n]; i == l.first {
		return l.start, 0
	}
	return c.moves[i-1].to, c.moves[i-1].ends
}

// Stepped is the minute at which so many lines more with moves have been done than at another, or fewer; a line that is under way
// is the first of either.
func (c *Course) Stepped(minute float64, by int) float64 {
	n := sort.Search(len(c.legs)-1, func(i int) bool { return minute+settled < c.legs[i].ends })
	l := &c.legs[n]
	done := l.first + sort.Search(l.past-l.first, func(i int) bool { return l.begins+c.moves[l.first+i].ends > minute+settled })
	if _, began := c.before(n, min(done, l.past-1)); by < 0 && done < l.past && minute > l.begins+began+settled {
		by++
	}
	done = max(0, min(done+by, len(c.moves)))
	if done == 0 {
		return 0
	}
	n = sort.Search(len(c.legs)-1, func(k int) bool { return done <= c.legs[k].past })
	return c.legs[n].begins + c.moves[done-1].ends
}

// settled is within how many minutes of its end a move has been done: what rounding makes of it.
const settled = 1e-9

// When is the minute in which a line of a file has just been done; ok is false where there is no such line.
func (c *Course) When(file string, line int) (minute float64, ok bool) {
	for _, l := range c.legs {
		if c.batch.Programs[l.program].Files[l.file].Name != file && c.batch.Programs[l.program].For.Name != file {
			continue
		}
		all := c.moves[l.first:l.past]
		if line < 1 || len(all) == 0 {
			return l.ends, true
		}
		i := sort.Search(len(all), func(i int) bool { return int(all[i].line) >= line })
		if i < len(all) {
			return l.begins + all[i].ends, true
		}
	}
	return 0, false
}

// A Relief is the wood of a board as it lies with one side up, on columns from its lower left corner, x fastest. Heights are
// hundredths of a mm above the bed; where Top is no higher than Floor there is no wood. It is used by one goroutine at a time.
type Relief struct {
	W, H         int
	StepX, StepY float64
	Top, Floor   []int16
	Side         panel.Face

	of   *Course
	done int // moves that are carved
	leg  int
	till float64 // minute of the program to which the next is
}

// Count is one of a relief's counts of height, mm.
const Count = unit

// Wood carves what has been carved at a moment into a relief, from what the relief holds or the nearest board that was kept.
func (c *Course) Wood(ctx context.Context, m Moment, r *Relief) error {
	if r.of != c || r.leg != m.leg || r.till > m.Minute || c.nearest(m.move, m.leg).move > r.done {
		c.load(r, m)
	}
	of := c.batch.Programs[m.Program].For
	w := &Wanted{Blank: c.batch.Blank, W: c.w, H: c.h, StepX: c.step[0], StepY: c.step[1]}
	cut := carver{board: &board{want: w, top: r.Top}, sweep: newSweep(of.Cutter, w)}
	from, _ := c.before(m.leg, r.done)
	for ; r.done < m.move; r.done++ {
		if r.done&1023 == 0 && ctx.Err() != nil {
			return ctx.Err() // what is carved stays right
		}
		cut.move(from, &c.moves[r.done])
		from = c.moves[r.done].to
	}
	if r.till = m.Minute; m.Line > 0 {
		cut.move(from, &move{to: m.over, rapid: m.Rapid})
	}
	return ctx.Err()
}

// nearest is the last board that was kept before a move of a leg.
func (c *Course) nearest(i, leg int) *kept {
	n := sort.Search(len(c.kept), func(n int) bool {
		return c.kept[n].leg > leg || c.kept[n].leg == leg && c.kept[n].move > i
	})
	return &c.kept[n-1]
}

// load puts the nearest board that was kept into a relief.
func (c *Course) load(r *Relief, m Moment) {
	k := c.nearest(m.move, m.leg)
	r.W, r.H, r.StepX, r.StepY, r.Side = c.w, c.h, c.step[0], c.step[1], m.Side
	r.Top = r.Top[:0]
	for _, columns := range k.runs {
		r.Top = append(r.Top, columns...)
	}
	r.Floor = k.floor
	r.of, r.leg, r.done, r.till = c, m.leg, k.move, 0
}

// A Stroke is a stretch of the cutter's way, as the panel lies.
type Stroke struct {
	From, To geom.Vec2
	Rapid    bool
}

// mostStrokes bounds a way.
const mostStrokes = 4000

// Way is how the cutter has come to a moment and where it goes from there: about so many mm of each, within its file.
func (c *Course) Way(m Moment, back, on float64) (gone, coming []Stroke) {
	flat := func(v geom.Vec) geom.Vec2 { return geom.Vec2{X: v.X, Y: v.Y} }
	l := &c.legs[m.leg]
	to := m.over
	for i := m.move; i >= l.first && back > 0 && len(gone) < mostStrokes; i-- {
		from, _ := c.before(m.leg, i)
		gone = append(gone, Stroke{flat(from), flat(to), c.moves[i].rapid})
		back -= to.Sub(from).Len()
		to = from
	}
	slices.Reverse(gone)
	from := m.over
	for i := m.move; i < l.past && on > 0 && len(coming) < mostStrokes; i++ {
		coming = append(coming, Stroke{flat(from), flat(c.moves[i].to), c.moves[i].rapid})
		on -= c.moves[i].to.Sub(from).Len()
		from = c.moves[i].to
	}
	return gone, coming
}
