package hours

import (
	"math"

	"grainstack/slicing/plane"
)

// chains joins the runs of rows, which come row by row from left to right, into zigzags: a run goes on from the one before
// it as long as the two meet no other (the cells of Choset and Pignon, "Coverage path planning: the boustrophedon cellular
// decomposition", 1998; from memory). Within a chain the cutter need not be lifted.
type chains struct {
	runs []plane.Run
	next []int32 // run that goes on from each, -1 at the end of a chain
	last []int32 // of each chain
	head []int32 // first run of each chain
}

// build sorts the runs that were put in.
func (c *chains) build() {
	n := len(c.runs)
	c.next, c.head, c.last = c.next[:0], c.head[:0], c.last[:0]
	for range n {
		c.next = append(c.next, -1)
	}
	chain := make([]int32, n)
	before, start := 0, 0
	for start < n {
		end := start
		for end < n && c.runs[end].Row == c.runs[start].Row {
			end++
		}
		from := before
		if before < start && c.runs[before].Row+1 != c.runs[start].Row {
			from = start // a row was left out
		}
		c.join(from, start, end, chain)
		before, start = start, end
	}
}

// join lets the runs start up to end go on from those from up to start.
func (c *chains) join(from, start, end int, chain []int32) {
	for i := start; i < end; i++ {
		r := c.runs[i]
		for from < start && c.runs[from].To < r.From {
			from++
		}
		only := from < start && c.runs[from].From <= r.To // one neighbour before...
		if from+1 < start && c.runs[from+1].From <= r.To {
			only = false
		}
		if only { // ...which has no other neighbour after
			b := c.runs[from]
			only = (i == start || c.runs[i-1].To < b.From) && (i+1 == end || c.runs[i+1].From > b.To)
		}
		if only {
			c.next[from] = int32(i)
			chain[i] = chain[from]
			c.last[chain[i]] = int32(i)
			continue
		}
		chain[i] = int32(len(c.head))
		c.head, c.last = append(c.head, int32(i)), append(c.last, int32(i))
	}
}

// A corner of a chain is where the cutter may begin on it: at its first or last row, at the left or right end.
type start struct {
	chain int
	last  bool
	right bool
}

// mostSearched is how many chains are looked through for the nearest; beyond that they are taken as they come.
const mostSearched = 1500

// order calls do for each chain, the one with the nearest corner next; at says where the cutter is, in columns and rows.
func (c *chains) order(at func() (x, y float64), rowStep float64, do func(start)) {
	left := make([]int, len(c.head))
	for i := range left {
		left[i] = i
	}
	for len(left) > 0 {
		best, pick, least := start{chain: left[0]}, 0, math.MaxFloat64
		x, y := at()
		for k, n := range left[:min(len(left), mostSearched)] {
			for _, s := range [4]start{{n, false, false}, {n, false, true}, {n, true, false}, {n, true, true}} {
				r := c.runs[c.head[n]]
				if s.last {
					r = c.runs[c.last[n]]
				}
				col := r.From
				if s.right {
					col = r.To
				}
				dx, dy := float64(col)-x, float64(r.Row)*rowStep-y
				if d := dx*dx + dy*dy; d < least {
					best, pick, least = s, k, d
				}
			}
		}
		left[pick] = left[len(left)-1]
		left = left[:len(left)-1]
		do(best)
	}
}

// along appends the runs of a chain in the order in which they are gone along.
func (c *chains) along(out []plane.Run, s start) []plane.Run {
	first := len(out)
	for i := c.head[s.chain]; i >= 0; i = c.next[i] {
		out = append(out, c.runs[i])
	}
	if s.last {
		for a, b := first, len(out)-1; a < b; a, b = a+1, b-1 {
			out[a], out[b] = out[b], out[a]
		}
	}
	return out
}
