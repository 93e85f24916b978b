package draw

import (
	"cmp"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A HatchLine is one stroke of hatching: Row counts the lines across the hatch, so that a caller can draw them unequal, as
// grain is.
type HatchLine struct {
	Segment
	Row int
}

// maxRows bounds the rows of one hatch: more than a sheet could show.
const maxRows = 20000

// Hatch gives the strokes that cover a region in direction along (any length but zero), spacing apart, measured square to
// them; row 0 runs through from. Strokes lie inside the region to rounding. A region that would take more than 20 000 rows
// gets none. The cost is that of the region's points and of its crossings, sorted.
func Hatch(r geom.Region, along geom.Vec2, spacing float64, from geom.Vec2) []HatchLine {
	n := along.Len()
	if n == 0 || !(spacing > 0) {
		return nil
	}
	u := along.Scale(1 / n)
	v := geom.Vec2{X: -u.Y, Y: u.X}
	cuts := crossings(r, u, v, spacing, from)
	slices.SortFunc(cuts, func(a, b crossing) int {
		return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.at, b.at), cmp.Compare(b.turn, a.turn))
	})
	var out []HatchLine
	winding, start := 0, 0.0
	for _, c := range cuts {
		was := winding
		winding += int(c.turn)
		switch {
		case was <= 0 && winding > 0:
			start = c.at
		case was > 0 && winding <= 0 && c.at > start:
			base := from.Add(v.Scale(float64(c.row) * spacing))
			out = append(out, HatchLine{Segment{base.Add(u.Scale(start)), base.Add(u.Scale(c.at))}, int(c.row)})
		}
	}
	return out
}

type crossing struct {
	row  int32
	turn int32 // +1 entering an outline seen along u, -1 leaving it
	at   float64
}

// crossings are where the rows meet the region's edges: a row takes an edge from its lower end up to but not including its
// upper end, so that a corner counts once and every ring is crossed an even number of times.
func crossings(r geom.Region, u, v geom.Vec2, spacing float64, from geom.Vec2) []crossing {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, ring := range r {
		for _, p := range ring {
			h := p.Sub(from).Dot(v) / spacing
			lo, hi = min(lo, h), max(hi, h)
		}
	}
	if !(hi-lo <= maxRows) || math.Abs(lo) > math.MaxInt32/2 {
		return nil
	}
	var cuts []crossing
	for _, ring := range r {
		if len(ring) == 0 {
			continue
		}
		p := ring[len(ring)-1].Sub(from)
		pu, pv := p.Dot(u), p.Dot(v)/spacing
		for _, q := range ring {
			q = q.Sub(from)
			qu, qv := q.Dot(u), q.Dot(v)/spacing
			a, b, turn := pv, qv, int32(-1)
			if a > b {
				a, b, turn = b, a, 1
			}
			for k := math.Ceil(a); k < b; k++ {
				t := (k - pv) / (qv - pv)
				cuts = append(cuts, crossing{int32(k), turn, pu + (qu-pu)*t})
			}
			pu, pv = qu, qv
		}
	}
	return cuts
}
