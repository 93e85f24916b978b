package workshop

import (
	"cmp"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
	"grainstack/slicing/stack"
)

// What an outline may be off, mm: rows are set no closer than outlineRow, and points are left out that lie within outlineThin of
// what remains. Together they stay below the 0.05 mm that the files promise.
const (
	outlineRow  = 0.02
	outlineThin = 0.025
	outlineHole = 1.0 // mm², smaller holes are closed
)

// outlineOf draws rings round where the windings of edges are above 0. It looks along rows: just below and just above each end of
// an edge, and as close as outlineRow where the edges that bound one row are not those that bound the next. Between other rows
// the edges themselves run from row to row.
func outlineOf(edges []stack.Edge) geom.Region {
	s := newRowScan(edges)
	if s == nil {
		return nil
	}
	var rows []scanned
	for i, y := range s.heights() {
		row := s.row(y)
		if i > 0 {
			rows = s.between(rows, rows[len(rows)-1], row)
		}
		rows = append(rows, row)
	}
	spans := make([][]plane.Stretch, len(rows))
	for i, r := range rows {
		spans[i] = r.spans
	}
	out := plane.Around(spans)
	for i, r := range out {
		for k, p := range r {
			r[k].Y = (rows[max(int(math.Floor(p.Y)), 0)].y + rows[min(int(math.Ceil(p.Y)), len(rows)-1)].y) / 2
		}
		out[i] = straightened(r, outlineThin)
	}
	return withoutSpecks(out)
}

// withoutSpecks leaves out rings round less than outlineHole, but for the largest.
func withoutSpecks(g geom.Region) geom.Region {
	most := 0.0
	for _, r := range g {
		most = math.Max(most, r.Area())
	}
	least := math.Min(outlineHole, most)
	return slices.DeleteFunc(g, func(r geom.Ring) bool { return len(r) < 3 || math.Abs(r.Area()) < least })
}

// A rowScan finds what rows meet of edges.
type rowScan struct {
	slopes  []slope
	bottom  float64
	height  float64   // of a shelf
	shelves [][]int32 // the slopes that reach each shelf
	met     []meeting // scratch
}

// A slope is an edge from its lower end.
type slope struct {
	x, low, high, lean float64
	turn               int
}

// A meeting is where a row meets a slope.
type meeting struct {
	x  float64
	by int32
}

// A scanned row has its stretches and which slopes bound them.
type scanned struct {
	y     float64
	spans []plane.Stretch
	by    [][2]int32
}

func newRowScan(edges []stack.Edge) *rowScan {
	s := &rowScan{bottom: math.Inf(1)}
	top := math.Inf(-1)
	for _, e := range edges {
		a, b, turn := e.A, e.B, -1 // right of an edge that rises is outside
		if a.Y > b.Y {
			a, b, turn = b, a, 1
		}
		if a.Y < b.Y {
			s.slopes = append(s.slopes, slope{a.X, a.Y, b.Y, (b.X - a.X) / (b.Y - a.Y), turn})
			s.bottom, top = math.Min(s.bottom, a.Y), math.Max(top, b.Y)
		}
	}
	if len(s.slopes) == 0 {
		return nil
	}
	n := int(math.Max(1, math.Min(float64(len(s.slopes))/4, (top-s.bottom)/outlineRow)))
	s.height, s.shelves = (top-s.bottom)/float64(n), make([][]int32, n)
	for i, e := range s.slopes {
		for k := s.shelf(e.low); k <= s.shelf(e.high); k++ {
			s.shelves[k] = append(s.shelves[k], int32(i))
		}
	}
	return s
}

func (s *rowScan) shelf(y float64) int {
	return max(0, min(int((y-s.bottom)/s.height), len(s.shelves)-1))
}

// heights are those of the rows below and above each end of a slope.
func (s *rowScan) heights() []float64 {
	var at []int
	for _, e := range s.slopes {
		for _, y := range [2]float64{e.low, e.high} {
			k := int(math.Floor((y - s.bottom) / outlineRow))
			at = append(at, k, k+1)
		}
	}
	slices.Sort(at)
	at = slices.Compact(at)
	out := make([]float64, len(at))
	for i, k := range at {
		out[i] = s.bottom + float64(k)*outlineRow
	}
	return out
}

// row is what a row meets.
func (s *rowScan) row(y float64) scanned {
	s.met = s.met[:0]
	for _, i := range s.shelves[s.shelf(y)] {
		if e := &s.slopes[i]; e.low <= y && y < e.high {
			s.met = append(s.met, meeting{e.x + (y-e.low)*e.lean, i})
		}
	}
	slices.SortFunc(s.met, func(a, b meeting) int {
		if c := cmp.Compare(a.x, b.x); c != 0 {
			return c
		}
		return s.slopes[b.by].turn - s.slopes[a.by].turn
	})
	const together = 1e-6 // mm: the same place but for rounding
	out := scanned{y: y}
	winding := 0
	for _, m := range s.met {
		before := winding
		winding += s.slopes[m.by].turn
		switch n := len(out.spans); {
		case before <= 0 && winding > 0 && n > 0 && m.x-out.spans[n-1].Right < together:
		case before <= 0 && winding > 0:
			out.spans, out.by = append(out.spans, plane.Stretch{Left: m.x, Right: m.x}), append(out.by, [2]int32{m.by, m.by})
		case before > 0 && winding <= 0:
			out.spans[n-1].Right, out.by[n-1][1] = m.x, m.by
		}
	}
	return out
}

// between appends the rows that are needed between two.
func (s *rowScan) between(rows []scanned, a, b scanned) []scanned {
	if b.y-a.y <= 1.5*outlineRow || a.leadsTo(b) {
		return rows
	}
	middle := s.row((a.y + b.y) / 2)
	rows = append(s.between(rows, a, middle), middle)
	return s.between(rows, middle, b)
}

// leadsTo reports whether the stretches of b are those of a, bounded by the same slopes, each over its own alone.
func (a scanned) leadsTo(b scanned) bool {
	if !slices.Equal(a.by, b.by) {
		return false
	}
	for i := range a.spans {
		if !plane.Touching(a.spans[i], b.spans[i]) {
			return false
		}
		if i > 0 && (plane.Touching(a.spans[i-1], b.spans[i]) || plane.Touching(a.spans[i], b.spans[i-1])) {
			return false
		}
	}
	return true
}
