package carve

import "grainstack/slicing/geom"

// A Residue is wood that ought to go and that the cutter leaves.
type Residue struct {
	Map    HeightMap // mm in each column, on the columns of the layer; Z is nil where nothing stays
	Max    float64   // mm
	Mean   float64   // mm, over all columns that it is asked of: with wood for a side, without for what stays between the sides
	Volume float64   // mm³
	At     geom.Vec  // where Max is
}

// leastResidue is what counts as residue, mm: a few steps of the lanes.
const leastResidue = 0.005

// residue is what the closed surface leaves on one side's wood; floor is the height of columns without wood.
//
// A steep wall that runs askew to the columns comes out as stairs, and a cutter doesn't fit into stairs. So what stays no
// higher than the wood of a column beside it is taken for the columns' doing and left out, unless that wood stands on two
// opposite sides, as in a groove.
func (l *LayerColumns) residue(s Side, closed []float32, floor float32) Residue {
	m := l.of(s)
	seen := l.Seen(s).Z
	for i, v := range seen {
		if v == NoWood {
			seen[i] = floor
		}
	}
	return m.gather(func(i int) (mm, z float32, ok bool) {
		if m.Z[i] == NoWood {
			return 0, 0, false
		}
		mm = closed[i] - seen[i]
		if mm > leastResidue && m.stair(i, func(k int) bool { return seen[k] >= closed[i] }) {
			mm = 0
		}
		return mm, m.Z[i], true
	})
}

// through is what neither side takes out of columns without wood; stairs in an outline are left out as for a side.
func (l *LayerColumns) through(up, down []float32) Residue {
	m := &l.Top
	thick := float32(l.thickness())
	return m.gather(func(i int) (mm, z float32, ok bool) {
		if m.Z[i] != NoWood {
			return 0, 0, false
		}
		lo, hi := max(thick-down[i], 0), min(up[i], thick)
		if hi-lo > leastResidue && m.stair(i, l.has) {
			hi = lo
		}
		return hi - lo, float32(l.PanelBottom) + (lo+hi)/2, true
	})
}

// stair reports whether a column has a wall beside it, but not on two opposite sides within two columns.
func (m *HeightMap) stair(i int, wall func(k int) bool) bool {
	beside := false
	m.beside(i, func(k int) { beside = beside || k != i && wall(k) })
	if !beside {
		return false
	}
	x, y := i%m.W, i/m.W
	at := func(x, y int) bool { return x >= 0 && y >= 0 && x < m.W && y < m.H && wall(y*m.W+x) }
	for _, d := range [4][2]int{{1, 0}, {0, 1}, {1, 1}, {1, -1}} {
		if (at(x+d[0], y+d[1]) || at(x+2*d[0], y+2*d[1])) && (at(x-d[0], y-d[1]) || at(x-2*d[0], y-2*d[1])) {
			return false
		}
	}
	return true
}

// gather sums up what stays in the columns that are ok; z is its height on the stand.
func (m *HeightMap) gather(of func(i int) (mm, z float32, ok bool)) Residue {
	r := Residue{Map: m.like(nil)}
	sum, n := 0.0, 0
	for i := range m.Z {
		mm, z, ok := of(i)
		if !ok {
			continue
		}
		n++
		if mm <= leastResidue {
			continue
		}
		if r.Map.Z == nil {
			r.Map.Z = make([]float32, len(m.Z))
		}
		r.Map.Z[i] = mm
		sum += float64(mm)
		if float64(mm) > r.Max {
			p := m.Place(i%m.W, i/m.W)
			r.Max, r.At = float64(mm), geom.Vec{X: p.X, Y: p.Y, Z: float64(z)}
		}
	}
	if n > 0 {
		r.Mean = sum / float64(n)
	}
	r.Volume = sum * m.Step * m.Step
	return r
}
