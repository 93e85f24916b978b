package geom

import "math"

// flattest is how narrow a triangle of three floor points may be, height by longest side: narrower ones say little of the floor.
const flattest = 0.02

// Below is the normal of the plane through three points that faces away from what lies above it; ok is false where the points lie
// in a line, nearly.
func Below(above, a, b, c Vec) (n Vec, ok bool) {
	ab, ac, bc := b.Sub(a), c.Sub(a), c.Sub(b)
	n = ab.Cross(ac)
	long := math.Max(ab.Len(), math.Max(ac.Len(), bc.Len()))
	if !(n.Len() > flattest*long*long) {
		return n, false
	}
	if n.Dot(above.Sub(a)) > 0 {
		n = n.Scale(-1)
	}
	return n, true
}
