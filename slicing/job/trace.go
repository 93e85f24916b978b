package job

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

const (
	// traceTolerance is how far, in cells, a silhouette's line may pass from where it was measured.
	traceTolerance = 0.3
	// traceLeast is the area, in cells, of the smallest body or gap that is shown.
	traceLeast = 2
	// traceRun is the longest run of points that is simplified at once: its cost may grow with the square.
	traceRun = 1024
)

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
	rows [][]stretch
	next [][]link // by row: from the left end of each stretch down, from its right end up
}

// trace draws rings round the stretches of the rows, as rings does, and simplifies them; what is too small to be shown is left out.
func trace(rows [][]stretch) geom.Region {
	var out geom.Region
	for _, r := range rings(rows) {
		if math.Abs(r.Area()) >= traceLeast {
			out = append(out, simplify(r))
		}
	}
	return out
}

// rings are those round the stretches of the rows, which lie one unit apart: outlines counter-clockwise, holes clockwise, none
// crossing another. Stretches of neighbouring rows that overlap hang together.
func rings(rows [][]stretch) geom.Region {
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
	var low, high []stretch
	if i >= 0 {
		low = t.rows[i]
	}
	if i+1 < len(t.rows) {
		high = t.rows[i+1]
	}
	for a, b := 0, 0; a < len(low) || b < len(high); {
		// what hangs together, from the left, begun by whichever stretch lies further left
		a0, b0 := a, b
		if b == len(high) || (a < len(low) && low[a].left <= high[b].left) {
			a++
		} else {
			b++
		}
		for more := true; more; {
			more = false
			for b < len(high) && a > a0 && touch(low[a-1], high[b]) {
				b, more = b+1, true
			}
			for a < len(low) && b > b0 && touch(low[a], high[b-1]) {
				a, more = a+1, true
			}
		}
		t.linkGroup(i, a0, a, b0, b)
	}
}

func touch(a, b stretch) bool { return a.left < b.right && b.left < a.right }

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

func (t *tracer) onwards(e end) *link { return &t.next[e.row][2*e.k+side(e.right)] }

func side(right bool) int {
	if right {
		return 1
	}
	return 0
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
		return t.rows[e.row][e.k].right
	}
	return t.rows[e.row][e.k].left
}

// simplify leaves out points that lie within the tolerance of the line without them (Douglas and Peucker 1973). It begins
// at the lowest point, of several the one furthest left, and at the point furthest from it, which both stay.
func simplify(r geom.Ring) geom.Ring {
	first := 0
	for i, p := range r {
		if q := r[first]; p.Y < q.Y || (p.Y == q.Y && p.X < q.X) {
			first = i
		}
	}
	r = append(append(make(geom.Ring, 0, len(r)+1), r[first:]...), r[:first]...)
	r = append(r, r[0])
	far := 0
	for i, p := range r {
		if p.Sub(r[0]).Len() > r[far].Sub(r[0]).Len() {
			far = i
		}
	}
	out := r[:1:1]
	for _, half := range []geom.Ring{r[:far+1], r[far:]} {
		for len(half) > 1 {
			run := half[:min(len(half), traceRun)]
			out = plane.Thin(out, run, traceTolerance)
			half = half[len(run)-1:]
		}
	}
	return out[:len(out)-1]
}
