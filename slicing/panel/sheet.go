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

// A shape is a part in one turn as cells, from the lower left corner of its box.
type shape struct {
	tall, wide int   // most cell that its corner may take, up and to the right
	fits       bool  // the box fits the grid at all
	touched    []run // every cell that the part touches, in an order that shows collisions soon
	grown      []run // every cell nearer than the margin, from reach cells to the left and below
	reach      int32
	extentX    int32 // of the box, in cells, rounded up
	extentY    int32
}

// A sheet is a panel with what is taken. Level k of a column has a bit set where any of the 2^k cells from there up is taken.
type sheet struct {
	grid   *grid
	stride int // words a column, one of them spare
	levels [][]uint64
}

// newSheet is an empty panel for shapes with runs of at most so many cells.
func newSheet(g *grid, longest int) *sheet {
	s := &sheet{grid: g, stride: (g.rows+63)/64 + 1}
	for range max(1, bits.Len(uint(longest))) {
		s.levels = append(s.levels, make([]uint64, s.stride*g.columns))
	}
	return s
}

func (s *sheet) copyFrom(t *sheet) {
	for k := range s.levels {
		copy(s.levels[k], t.levels[k])
	}
}

func (s *sheet) clone() *sheet {
	t := &sheet{grid: s.grid, stride: s.stride}
	for _, l := range s.levels {
		t.levels = append(t.levels, slices.Clone(l))
	}
	return t
}

func (s *sheet) column(level, i int) []uint64 {
	return s.levels[level][i*s.stride : (i+1)*s.stride]
}

// take marks what a shape at a cell keeps others from.
func (s *sheet) take(p *shape, x, y int32) {
	dx, dy := x-p.reach, y-p.reach
	for _, r := range p.grown {
		i := int(r.column + dx)
		from, to := max(int(r.from+dy), 0), min(int(r.to+dy), s.grid.rows)
		if i >= 0 && i < s.grid.columns && from < to {
			plane.SetBits(s.column(0, i), from, to)
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
	for k := 1; k < len(s.levels); k++ {
		by := 1 << (k - 1)
		for i := from; i < to; i++ {
			union(s.column(k, i), s.column(k-1, i), by>>6, uint(by&63))
		}
	}
}

// union puts into out what is set in low at a row or q words and r bits further up.
func union(out, low []uint64, q int, r uint) {
	copy(out, low)
	low = low[min(q, len(low)):]
	for w, v := range low {
		v >>= r
		if w+1 < len(low) {
			v |= low[w+1] << (64 - r) // a shift by 64 gives 0
		}
		out[w] |= v
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
	for _, r := range p.touched {
		k := bits.Len(uint(r.to-r.from)) - 1
		col := s.column(k, i+int(r.column))
		second := int(r.to) - 1<<k
		left := clearShifted(free, col, int(r.from))
		if second != int(r.from) {
			left = clearShifted(free, col, second)
		}
		if left == 0 {
			return nil
		}
	}
	return free
}

// clearShifted takes out of free what is set in col at that many rows further up, and gives the union of what is left.
func clearShifted(free, col []uint64, up int) (left uint64) {
	q, r := up>>6, uint(up&63)
	col = col[q:]
	for w := range free {
		v := col[w] >> r
		if w+1 < len(col) {
			v |= col[w+1] << (64 - r) // a shift by 64 gives 0
		}
		free[w] &^= v
		left |= free[w]
	}
	return left
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
