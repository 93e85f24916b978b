package plane

import "grainstack/slicing/geom"

// A Stretch is a run of one row that is covered without a gap, from left to right.
type Stretch struct{ Left, Right float64 }

// An end is the left or the right end of stretch k of a row.
type end struct {
	row, k int
	right  bool
}

// A link leads to the next end; where it turns back it runs level, halfway to the next row.
type link struct {
	to          end
	turns, used bool
}

// A tracer follows the ends of stretches: up right ends and down left ends, so that wood lies on the left hand.
type tracer struct {
	rows [][]Stretch
	next [][]link // by row: from the left end of each stretch down, from its right end up
}

// Around are the rings round the stretches of the rows, which lie one unit apart: outlines counter-clockwise, holes clockwise, none
// crossing another. Stretches of neighbouring rows that overlap hang together.
func Around(rows [][]Stretch) geom.Region {
	t := tracer{rows, make([][]link, len(rows))}
	for i, r := range rows {
		t.next[i] = make([]link, 2*len(r))
	}
	for i := -1; i < len(rows); i++ {
		t.linkRows(i)
	}
	var out geom.Region
	for i, r := range rows {
		for k := range r {
			for _, e := range []end{{i, k, false}, {i, k, true}} {
				if !t.onwards(e).used {
					out = append(out, t.follow(e))
				}
			}
		}
	}
	return out
}

// linkRows joins the ends of row i with those of the row above it. Rows that are not there are empty.
func (t *tracer) linkRows(i int) {
	var low, high []Stretch
	if i >= 0 {
		low = t.rows[i]
	}
	if i+1 < len(t.rows) {
		high = t.rows[i+1]
	}
	for a, b := 0, 0; a < len(low) || b < len(high); {
		// what hangs together, from the left, begun by whichever stretch lies further left
		a0, b0 := a, b
		if b == len(high) || (a < len(low) && low[a].Left <= high[b].Left) {
			a++
		} else {
			b++
		}
		for more := true; more; {
			more = false
			for b < len(high) && a > a0 && Touching(low[a-1], high[b]) {
				b, more = b+1, true
			}
			for a < len(low) && b > b0 && Touching(low[a], high[b-1]) {
				a, more = a+1, true
			}
		}
		t.linkGroup(i, a0, a, b0, b)
	}
}

// Touching reports whether two stretches of neighbouring rows overlap, and so hang together.
func Touching(a, b Stretch) bool { return a.Left < b.Right && b.Left < a.Right }

// linkGroup joins the ends of the stretches a0 … a1-1 of row i and b0 … b1-1 of the row above, which hang together: the
// outermost ends with one another, those between with their neighbours.
func (t *tracer) linkGroup(i, a0, a1, b0, b1 int) {
	low := func(k int, right bool) end { return end{i, k, right} }
	high := func(k int, right bool) end { return end{i + 1, k, right} }
	for k := a0; k+1 < a1; k++ {
		t.join(low(k, true), low(k+1, false), true)
	}
	for k := b0; k+1 < b1; k++ {
		t.join(high(k+1, false), high(k, true), true)
	}
	switch {
	case b0 == b1:
		t.join(low(a1-1, true), low(a0, false), true)
	case a0 == a1:
		t.join(high(b0, false), high(b1-1, true), true)
	default:
		t.join(low(a1-1, true), high(b1-1, true), false)
		t.join(high(b0, false), low(a0, false), false)
	}
}

func (t *tracer) join(from, to end, turns bool) { *t.onwards(from) = link{to: to, turns: turns} }

func (t *tracer) onwards(e end) *link {
	k := 2 * e.k
	if e.right {
		k++
	}
	return &t.next[e.row][k]
}

// follow is the ring through an end; the links that it takes are used up.
func (t *tracer) follow(from end) geom.Ring {
	var ring geom.Ring
	for e := from; ; {
		x, y := t.across(e), float64(e.row)
		ring = append(ring, geom.Vec2{X: x, Y: y})
		l := t.onwards(e)
		if l.turns {
			if y -= 0.5; e.right {
				y++
			}
			ring = append(ring, geom.Vec2{X: x, Y: y}, geom.Vec2{X: t.across(l.to), Y: y})
		}
		l.used = true
		if e = l.to; e == from {
			return ring
		}
	}
}

func (t *tracer) across(e end) float64 {
	if e.right {
		return t.rows[e.row][e.k].Right
	}
	return t.rows[e.row][e.k].Left
}
