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

// residue is what stays on one side's wood; closed is the wood closed by the cutter with its axis on columns.
func (l *LayerColumns) residue(s Side, closed []float32, how *closing) Residue {
	m := l.of(s)
	return m.gather(func(k, i, j int) (mm, z float32, ok bool) {
		if m.Z[k] == NoWood {
			return 0, 0, false
		}
		return how.down(i, j, closed[k]) - how.z[how.place(i, j)], m.Z[k], true
	})
}

// through is what neither side takes out of columns without wood.
func (l *LayerColumns) through(closed [2][]float32, how *[2]closing) Residue {
	m := &l.Top
	thick := float32(l.thickness())
	between := func(up, down float32) (lo, hi float32) { return max(thick-down, 0), min(up, thick) }
	return m.gather(func(k, i, j int) (mm, z float32, ok bool) {
		if m.Z[k] != NoWood {
			return 0, 0, false
		}
		up, down := closed[Up][k], closed[Down][k]
		lo, hi := between(up, down)
		if hi-lo > leastResidue {
			lo, hi = between(how[Up].down(i, j, up), how[Down].down(i, j, down))
		}
		return hi - lo, float32(l.PanelBottom) + (lo+hi)/2, true
	})
}

// gather sums up what stays in the columns that are ok; k is a column's place in Z, and z its height on the stand.
func (m *HeightMap) gather(of func(k, i, j int) (mm, z float32, ok bool)) Residue {
	r := Residue{Map: m.like(nil)}
	sum, n := 0.0, 0
	for j := range m.H {
		for i := range m.W {
			k := j*m.W + i
			mm, z, ok := of(k, i, j)
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
			r.Map.Z[k] = mm
			sum += float64(mm)
			if float64(mm) > r.Max {
				p := m.Place(i, j)
				r.Max, r.At = float64(mm), geom.Vec{X: p.X, Y: p.Y, Z: float64(z)}
			}
		}
	}
	if n > 0 {
		r.Mean = sum / float64(n)
	}
	r.Volume = sum * m.Step * m.Step
	return r
}
