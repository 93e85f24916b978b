package arrange

import (
	"math"
	"math/big"

	"grainstack/slicing/mesh"
)

// A view looks at points along an axis, against its direction: i and j run to the right and up.
type view struct{ i, j int }

func along(axis int) view { return view{(axis + 1) % 3, (axis + 2) % 3} }

// turn is 1 where the way from a over b to c turns left, -1 where right, 0 where it goes on or back.
func (v view) turn(a, b, c *spot) int {
	ux, uy := b.at[v.i]-a.at[v.i], b.at[v.j]-a.at[v.j]
	wx, wy := c.at[v.i]-a.at[v.i], c.at[v.j]-a.at[v.j]
	d := ux*wy - uy*wx
	u, w := math.Abs(ux)+math.Abs(uy), math.Abs(wx)+math.Abs(wy)
	oa := a.off()
	ub, wc := oa+b.off(), oa+c.off()
	sure := productError*u*w + 2*(u*wc+w*ub) + 4*ub*wc
	if d > sure || d < -sure {
		return sign(d)
	}
	return v.area(a, b, c).Sign()
}

// area is twice the area of a, b, c times their denominators, positive where they turn left.
func (v view) area(a, b, c *spot) *big.Int {
	var s sum
	s.add(a.whole[3], det2(b.whole[v.i], b.whole[v.j], c.whole[v.i], c.whole[v.j]))
	s.sub(b.whole[3], det2(a.whole[v.i], a.whole[v.j], c.whole[v.i], c.whole[v.j]))
	s.add(c.whole[3], det2(a.whole[v.i], a.whole[v.j], b.whole[v.i], b.whole[v.j]))
	return &s.all
}

// compare orders two points along an axis: -1 where a comes first.
func compare(a, b *spot, axis int) int {
	d := a.at[axis] - b.at[axis]
	if sure := a.off() + b.off(); d > sure || d < -sure || sure == 0 {
		return sign(d)
	}
	x, y := new(big.Int).Mul(a.whole[axis], b.whole[3]), new(big.Int).Mul(b.whole[axis], a.whole[3])
	return x.Cmp(y)
}

// order is the order of two points from left to right, of those on an upright line from below up.
func (v view) order(a, b *spot) int {
	if c := compare(a, b, v.i); c != 0 {
		return c
	}
	return compare(a, b, v.j)
}

// on reports whether c lies on the segment from a to b, without its ends.
func (v view) on(a, b, c *spot) bool {
	return !v.beyond(a, b, c) && v.turn(a, b, c) == 0 && v.order(a, c)*v.order(c, b) > 0
}

// beyond reports whether c clearly lies outside the box of a and b.
func (v view) beyond(a, b, c *spot) bool {
	near := a.off() + b.off() + c.off()
	for _, k := range [2]int{v.i, v.j} {
		if c.at[k] < min(a.at[k], b.at[k])-near || c.at[k] > max(a.at[k], b.at[k])+near {
			return true
		}
	}
	return false
}

// within reports whether d lies in the triangle a, b, c or on its rim; handed is the triangle's own turn.
func (v view) within(a, b, c, d *spot, handed int) bool {
	return v.turn(a, b, d)*handed >= 0 && v.turn(b, c, d)*handed >= 0 && v.turn(c, a, d)*handed >= 0
}

// viewOf is a view in which facet t does not shrink to a line, and which way it turns there; ok is false where the facet is one.
func (p *points) viewOf(t mesh.Triangle) (v view, handed int, ok bool) {
	a, b, c := p.of(t[0]), p.of(t[1]), p.of(t[2])
	return viewOn(a, b, c)
}

func viewOn(a, b, c *spot) (v view, handed int, ok bool) {
	var u, w, n [3]float64
	for k := range u {
		u[k], w[k] = b.at[k]-a.at[k], c.at[k]-a.at[k]
	}
	best := 0
	for k := range n {
		i, j := (k+1)%3, (k+2)%3
		if n[k] = math.Abs(u[i]*w[j] - u[j]*w[i]); n[k] > n[best] {
			best = k
		}
	}
	for k := range 3 {
		v = along((best + k) % 3)
		if handed = v.turn(a, b, c); handed != 0 {
			return v, handed, true
		}
	}
	return v, 0, false
}
