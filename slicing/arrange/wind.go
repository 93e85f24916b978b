package arrange

import (
	"math/big"

	"grainstack/slicing/mesh"
)

// infront is how often the surface winds round a point just in front of triangle i of all. It is counted exactly on a line from
// the triangle's middle along an axis. A line through an edge or a corner of other facets counts as one that passes a hair to the
// left of it, the same for all facets there, so that each surface is counted once.
func (a *arrangement) infront(i int32) int {
	t := a.triangle(i)
	x, y, z := a.of(t[0]), a.of(t[1]), a.of(t[2])
	v, handed, ok := viewOn(x, y, z)
	if !ok {
		return 0
	}
	above := a.above(a.middle(x, y, z), v)
	if handed > 0 {
		return above
	}
	return above - a.times(i)
}

// middle is the middle of three points.
func (p *points) middle(a, b, c *spot) *spot {
	var w [4]*big.Int
	ab, bc, ca := new(big.Int).Mul(a.whole[3], b.whole[3]), new(big.Int).Mul(b.whole[3], c.whole[3]), new(big.Int).Mul(c.whole[3], a.whole[3])
	for k := range 3 {
		var s sum
		s.add(a.whole[k], bc)
		s.add(b.whole[k], ca)
		s.add(c.whole[k], ab)
		w[k] = &s.all
	}
	w[3] = new(big.Int).Mul(ab, c.whole[3])
	w[3].Mul(w[3], big.NewInt(3))
	return p.spotAt(w)
}

// above is how often the surface winds round a point just above p, looked at against the view's axis, where p lies in facets that
// end there or not.
func (a *arrangement) above(p *spot, v view) int {
	winds := 0
	up := 3 - v.i - v.j
	near := p.off()
	t := a.tree
	for n := int32(0); int(n) < len(t.Nodes); {
		b := &t.Boxes[n]
		if float64(b.Max[up]) < p.at[up]-near || !over(float64(b.Min[v.i]), float64(b.Max[v.i]), p.at[v.i], near) ||
			!over(float64(b.Min[v.j]), float64(b.Max[v.j]), p.at[v.j], near) {
			n = t.Nodes[n].Skip
			continue
		}
		if nd := &t.Nodes[n]; nd.Leaf {
			for _, f := range t.Order[nd.First:nd.Stop] {
				winds += a.covers(a.m.Triangles[f], p, v)
			}
		}
		n++
	}
	return winds
}

// over reports whether at may lie between low and high.
func over(low, high, at, near float64) bool { return low <= at+near && at-near <= high }

// covers is 1 where facet t lies above p and faces up, -1 where above and down, 0 where it is not above p.
func (a *arrangement) covers(t mesh.Triangle, p *spot, v view) int {
	winds := 0
	for k := range 3 {
		winds += a.passesBy(t[k], t[(k+1)%3], p, v)
	}
	if winds == 0 {
		return 0
	}
	if side := a.side(t, p); side == 0 || (side > 0) == (winds > 0) {
		return 0
	}
	return winds
}

// passesBy is 1 where an edge passes p on the right going up in the view, -1 going down, 0 where it does not pass it there.
func (a *arrangement) passesBy(from, to int32, p *spot, v view) int {
	up := 1
	if a.m.Points[from][v.j] > a.m.Points[to][v.j] {
		from, to, up = to, from, -1
	}
	low, high := float64(a.m.Points[from][v.j]), float64(a.m.Points[to][v.j])
	if near := p.off(); low > p.at[v.j]+near || high < p.at[v.j]-near || low == high {
		return 0
	}
	b, c := a.of(from), a.of(to)
	if compare(b, p, v.j) > 0 || compare(c, p, v.j) <= 0 || v.turn(b, c, p) <= 0 {
		return 0
	}
	return up
}
