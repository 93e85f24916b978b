package panel

import (
	"math/bits"
	"slices"

	"grainstack/slicing/plane"
)

// A grid is the usable part of a panel in cells; its corner is the panel's, in by the edge.
type grid struct {
	step          float64
	columns, rows int
	x, y          float64 // usable size, mm
}

// stride is how many words a column has.
func (g *grid) stride() int { return (g.rows + 63) / 64 }

// level is how many words one level of a sheet has: words behind the last column let a column be read past its end.
func (g *grid) level() int { return (g.columns + 1) * (g.stride() + 1) }

// A shape is a part in one turn as cells, from the lower left corner of its box.
type shape struct {
	tall, wide int   // most cell that its corner may take, up and to the right
	fits       bool  // the box fits the grid at all
	touched    []run // every cell that the part touches, in an order that shows collisions soon
	probes     []probe
	levels     int   // that the probes ask
	grown      []run // every cell nearer than the margin, from reach cells to the left and below
	reach      int32
	extentX    int32 // of the box, in cells, rounded up
	extentY    int32
}

// A probe asks a sheet whether any of 2^k cells of a run is taken: at is the word with the first of them, on the sheet's level k,
// for a part at the lower left, and up its bit.
type probe struct {
	at int32
	up uint8
}

// ask makes probes of what a shape touches.
func (p *shape) ask(g *grid) {
	for _, r := range p.touched {
		k := bits.Len(uint(r.to-r.from)) - 1
		p.levels = max(p.levels, k+1)
		add := func(from int32) {
			p.probes = append(p.probes, probe{int32(k*g.level()) + r.column*int32(g.stride()) + from>>6, uint8(from & 63)})
		}
		add(r.from)
		if second := r.to - 1<<k; second != r.from {
			add(second)
		}
	}
}

// A sheet is a panel with what is taken. Level k of a column has a bit set where any of the 2^k cells from there up is taken. Where
// those reach beyond the column they are some of the next one: nobody asks that.
type sheet struct {
	grid   *grid
	levels int
	bits   []uint64 // level after level
}

func newSheet(g *grid, levels int) *sheet {
	levels = max(levels, 1)
	return &sheet{grid: g, levels: levels, bits: make([]uint64, levels*g.level())}
}

func (s *sheet) copyFrom(t *sheet) { copy(s.bits, t.bits) }

func (s *sheet) clone() *sheet {
	t := *s
	t.bits = slices.Clone(s.bits)
	return &t
}

// column is a column of level 0.
func (s *sheet) column(i int) []uint64 {
	n := s.grid.stride()
	return s.bits[i*n : (i+1)*n]
}

// take marks what a shape at a cell keeps others from.
func (s *sheet) take(p *shape, x, y int32) {
	dx, dy := x-p.reach, y-p.reach
	for _, r := range p.grown {
		i := int(r.column + dx)
		from, to := max(int(r.from+dy), 0), min(int(r.to+dy), s.grid.rows)
		if i >= 0 && i < s.grid.columns && from < to {
			plane.SetBits(s.column(i), from, to)
		}
	}
	if n := len(p.grown); n > 0 {
		s.lift(int(p.grown[0].column+dx), int(p.grown[n-1].column+dx)+1)
	}
}

// lift works out the levels of columns [from, to) anew.
func (s *sheet) lift(from, to int) {
	from, to = max(from, 0), min(to, s.grid.columns)
	if from >= to {
		return
	}
	n := s.grid.stride()
	words := (to - from) * n
	for k := 1; k < s.levels; k++ {
		by := 1 << (k - 1)
		low := s.bits[(k-1)*s.grid.level()+from*n:]
		out := s.bits[k*s.grid.level()+from*n:][:words]
		union(out, low[:words], low[by>>6:][:words+1], by&63)
	}
}

// union puts into out what is set in low, or further on by so many bits.
func union(out, low, on []uint64, by int) {
	r, l := uint(by&63), uint(63-by&63)
	next := on[0]
	on = on[1:]
	for w := range out {
		v := next
		next = on[w]
		out[w] = low[w] | v>>r | next<<1<<l
	}
}

// A corner says from where a panel is filled, and whether column by column or row by row.
type corner uint8

const (
	fromRight corner = 1 << iota
	fromTop
	byRows
	corners // how many there are
)

// A window is the cells that a corner of a part may take, ends included.
type window struct{ x0, x1, y0, y1 int }

func (p *shape) window() window { return window{0, p.wide, 0, p.tall} }

// upTo is the window without what is further from the corner than a place that was found.
func (w window) upTo(c corner, x, y int32) window {
	switch c &^ fromTop {
	case 0:
		w.x1 = int(x)
	case fromRight:
		w.x0 = int(x)
	default:
		if c&fromTop != 0 {
			w.y0 = int(y)
		} else {
			w.y1 = int(y)
		}
	}
	return w
}

// find looks for the place of a shape nearest to the corner: by columns first along X, then along Y, by rows the other way.
// The scratch holds a column.
func (s *sheet) find(p *shape, c corner, w window, scratch []uint64) (x, y int32, ok bool) {
	for n := 0; n <= w.x1-w.x0; n++ {
		i := w.x0 + n
		if c&fromRight != 0 {
			i = w.x1 - n
		}
		free := s.free(p, i, w.y0, w.y1, scratch)
		if free == nil {
			continue
		}
		x, y, ok = int32(i), int32(lowest(free)), true
		if c&fromTop != 0 {
			y = int32(highest(free))
		}
		switch {
		case c&byRows == 0:
			return x, y, ok
		case c&fromTop != 0:
			w.y0 = int(y) + 1
		default:
			w.y1 = int(y) - 1
		}
		if w.y0 > w.y1 {
			return x, y, ok
		}
		// what has been looked at is not looked at again
		if c&fromRight != 0 {
			w.x1, n = i-1, -1
		} else {
			w.x0, n = i+1, -1
		}
	}
	return x, y, ok
}

// free gives the rows from y0 to y1 where a shape may lie in a column, nil where there are none.
func (s *sheet) free(p *shape, i, y0, y1 int, scratch []uint64) []uint64 {
	free := scratch[:y1>>6+1]
	clear(free)
	plane.SetBits(free, y0, y1+1)
	column := s.bits[i*s.grid.stride():]
	lo, hi := y0>>6, len(free) // words with rows that are still free
	for _, q := range p.probes {
		taken := column[int(q.at)+lo:][:hi-lo+1]
		r, l := uint(q.up&63), uint(63-q.up&63)
		next := taken[0]
		taken = taken[1:]
		rows := free[lo:hi]
		for w, v := range taken {
			rows[w] &^= next>>r | v<<1<<l
			next = v
		}
		for rows[0] == 0 {
			if lo++; lo == hi {
				return nil
			}
			rows = rows[1:]
		}
		for free[hi-1] == 0 {
			hi--
		}
	}
	return free
}

func lowest(words []uint64) int {
	for w, v := range words {
		if v != 0 {
			return w<<6 + bits.TrailingZeros64(v)
		}
	}
	return -1
}

func highest(words []uint64) int {
	for w := len(words) - 1; w >= 0; w-- {
		if words[w] != 0 {
			return w<<6 + 63 - bits.LeadingZeros64(words[w])
		}
	}
	return -1
}
