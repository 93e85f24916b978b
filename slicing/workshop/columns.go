package workshop

import (
	"math"

	"grainstack/slicing/geom"
)

// columns tell for each cell of a part's cover from where to where there is wood at the cell's middle once both sides are
// carved, mm on the stand; low > high where there is none. A hollow is not looked at.
type columns struct {
	*cover
	low, high []float32
}

func newColumns(c *cover) *columns {
	k := &columns{c, make([]float32, len(c.bits)), make([]float32, len(c.bits))}
	for i := range k.low {
		k.low[i], k.high[i] = math.MaxFloat32, -math.MaxFloat32
	}
	return k
}

func (k *columns) add(i int, z float64) {
	k.low[i], k.high[i] = min(k.low[i], float32(z)), max(k.high[i], float32(z))
}

// face adds a level face.
func (k *columns) face(g geom.Region, z float64) {
	k.middles(g, func(i int) { k.add(i, z) })
}

// facet adds a small flat convex polygon.
func (k *columns) facet(p []geom.Vec) {
	seen := func(q geom.Vec) geom.Vec { // in cells, whole numbers at their middles
		return geom.Vec{X: (q.X-k.corner.X)/k.step - 0.5, Y: (q.Y-k.corner.Y)/k.step - 0.5, Z: q.Z}
	}
	first := seen(p[0])
	for i := 2; i < len(p); i++ {
		f := geom.Facet{first, seen(p[i-1]), seen(p[i])}
		from, to := f.Rows()
		for j := max(from, 0); j < min(to, k.ny); j++ {
			row := f.Row(j, k.nx)
			for i := row.First; i < row.End; i++ {
				k.add(j*k.nx+i, row.Z(i))
			}
		}
	}
}

// wood is from where to where a column has wood; ok is false where it has none.
func (k *columns) wood(at geom.Vec2) (low, high float64, ok bool) {
	i, in := k.cell(at)
	if !in || k.low[i] > k.high[i] {
		return 0, 0, false
	}
	return float64(k.low[i]), float64(k.high[i]), true
}
