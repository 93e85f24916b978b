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
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range p {
		low, high = math.Min(low, q.Y), math.Max(high, q.Y)
	}
	for j := max(k.row(low), 0); j < min(k.row(high), k.ny); j++ {
		y := k.corner.Y + (float64(j)+0.5)*k.step
		left, right := geom.Vec{X: math.Inf(1)}, geom.Vec{X: math.Inf(-1)}
		for i, a := range p {
			b := p[(i+1)%len(p)]
			if (a.Y < y) == (b.Y < y) {
				continue
			}
			q := a.Add(b.Sub(a).Scale((y - a.Y) / (b.Y - a.Y)))
			if q.X < left.X {
				left = q
			}
			if q.X > right.X {
				right = q
			}
		}
		from, to := int(math.Ceil((left.X-k.corner.X)/k.step-0.5)), int(math.Ceil((right.X-k.corner.X)/k.step-0.5))
		for i := max(from, 0); i < min(to, k.nx); i++ {
			x := k.corner.X + (float64(i)+0.5)*k.step
			z := left.Z
			if right.X > left.X {
				z += (right.Z - left.Z) * (x - left.X) / (right.X - left.X)
			}
			k.add(j*k.nx+i, z)
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
