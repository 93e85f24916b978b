package mend

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A corner of an outline while it is cut into triangles: its number for the caller, its place, its neighbours.
type corner struct {
	id         int32
	at         geom.Vec2
	prev, next int32
}

// triangulate cuts the inside of outlines into triangles of their points' numbers. Outlines run counter-clockwise, holes
// clockwise; holes are joined to the outline round them by a bridge and ears are cut off one by one (method: Eberly,
// Triangulation by Ear Clipping, 2002). Points are neither moved nor added, so every side of an outline is a side of one
// triangle; a hole with no outline round it is filled facing the other way. ok is false where the lines cross so that no
// ear is left before the end; the triangles are closed all the same.
func triangulate(rings []geom.Ring, ids [][]int32) (out [][3]int32, ok bool) {
	ok = true
	holes := make(map[int][]int)
	var outer []int
	for i, r := range rings {
		if r.Area() >= 0 {
			outer = append(outer, i)
		}
	}
	for i, r := range rings {
		if r.Area() >= 0 {
			continue
		}
		best := -1
		for _, o := range outer {
			if rings[o].Winding(r[0]) > 0 && (best < 0 || rings[o].Area() < rings[best].Area()) {
				best = o
			}
		}
		if best < 0 { // the rim of a hollow: closed for itself, facing the other way
			back, ok2 := triangulate([]geom.Ring{reversed(r)}, [][]int32{reversed(ids[i])})
			for _, f := range back {
				out = append(out, [3]int32{f[0], f[2], f[1]})
			}
			ok = ok && ok2
			continue
		}
		holes[best] = append(holes[best], i)
	}
	for _, o := range outer {
		c := newClipper(rings[o], ids[o])
		mine := holes[o]
		slices.SortStableFunc(mine, func(a, b int) int {
			return compareFloat(rightmost(rings[b]), rightmost(rings[a]))
		})
		for _, h := range mine {
			ok = c.bridge(rings[h], ids[h]) && ok
		}
		ok = c.clip(func(a, b, d int32) { out = append(out, [3]int32{a, b, d}) }) && ok
	}
	return out, ok
}

func reversed[S ~[]E, E any](s S) S {
	out := slices.Clone(s)
	slices.Reverse(out)
	return out
}

func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func rightmost(r geom.Ring) float64 {
	x := math.Inf(-1)
	for _, p := range r {
		x = max(x, p.X)
	}
	return x
}

// A clipper is an outline that is being cut up.
type clipper struct {
	corners []corner
	grid    map[[2]int32][]int32 // corners by place
	low     geom.Vec2
	cell    float64
	gone    []bool
}

func newClipper(r geom.Ring, ids []int32) *clipper {
	c := &clipper{}
	c.add(r, ids)
	return c
}

// add appends a closed ring of corners and returns the first.
func (c *clipper) add(r geom.Ring, ids []int32) int32 {
	from, n := int32(len(c.corners)), int32(len(r))
	for i, p := range r {
		k := int32(i)
		c.corners = append(c.corners, corner{ids[i], p, from + (k+n-1)%n, from + (k+1)%n})
	}
	return from
}

// bridge joins a hole to the outline: from its rightmost point to a corner that it sees to the right.
func (c *clipper) bridge(r geom.Ring, ids []int32) bool {
	before := int32(len(c.corners))
	from := c.add(r, ids)
	right := from
	for i := from; i < from+int32(len(r)); i++ {
		if c.corners[i].at.X > c.corners[right].at.X {
			right = i
		}
	}
	m := c.corners[right].at
	best, bestX := int32(-1), math.Inf(1)
	for i := range before { // the side of the outline that a ray to the right meets first
		a, b := c.corners[i].at, c.corners[c.corners[i].next].at
		if a.Y > m.Y || b.Y < m.Y || a.Y == b.Y && a.Y != m.Y {
			continue
		}
		x := max(a.X, b.X)
		if a.Y != b.Y {
			x = a.X + (m.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X)
		}
		if x >= m.X && x < bestX {
			bestX, best = x, i
			if b.X > a.X {
				best = c.corners[i].next
			}
		}
	}
	if best < 0 {
		best = 0
	}
	best = c.visible(m, geom.Vec2{X: bestX, Y: m.Y}, best, before)
	c.link(best, right)
	return !math.IsInf(bestX, 1)
}

// visible is the corner seen from m under the least angle to the right, among those in the triangle m, hit, corner p.
func (c *clipper) visible(m, hit geom.Vec2, p, before int32) int32 {
	if math.IsInf(hit.X, 1) {
		return p
	}
	best := p
	slope := func(v geom.Vec2) float64 { return math.Abs(v.Y-m.Y) / math.Max(v.X-m.X, 1e-300) }
	tri := [3]geom.Vec2{m, hit, c.corners[p].at}
	if tri[2].Y < m.Y {
		tri[1], tri[2] = tri[2], tri[1]
	}
	for i := range before {
		v := c.corners[i].at
		if v == c.corners[p].at && !c.opensTo(i, m) || !inTriangle(tri[0], tri[1], tri[2], v) || v.X < m.X {
			continue
		}
		s, b := slope(v), slope(c.corners[best].at)
		if s < b || s == b && (v.X < c.corners[best].at.X || v == c.corners[best].at && c.opensTo(i, m) && !c.opensTo(best, m)) {
			best = i
		}
	}
	return best
}

// opensTo reports whether m lies within the angle of the inside at corner i.
func (c *clipper) opensTo(i int32, m geom.Vec2) bool {
	k := &c.corners[i]
	a, b := c.corners[k.prev].at, c.corners[k.next].at
	left := b.Sub(k.at).Cross(m.Sub(k.at)) >= 0
	right := k.at.Sub(a).Cross(m.Sub(k.at)) >= 0
	if k.at.Sub(a).Cross(b.Sub(k.at)) >= 0 {
		return left && right
	}
	return left || right
}

// link joins corner p of the outline and corner q of a hole by two sides, doubling both.
func (c *clipper) link(p, q int32) {
	n := int32(len(c.corners))
	a, b := c.corners[p], c.corners[q]
	c.corners = append(c.corners, corner{a.id, a.at, n + 1, a.next}, corner{b.id, b.at, b.prev, n})
	c.corners[a.next].prev = n
	c.corners[b.prev].next = n + 1
	c.corners[p].next, c.corners[q].prev = q, p
}

func inTriangle(a, b, c, p geom.Vec2) bool {
	return b.Sub(a).Cross(p.Sub(a)) >= 0 && c.Sub(b).Cross(p.Sub(b)) >= 0 && a.Sub(c).Cross(p.Sub(c)) >= 0
}

// clip cuts off ears until nothing is left; it reports whether each was a true one.
func (c *clipper) clip(visit func(a, b, d int32)) bool {
	c.sort()
	c.gone = make([]bool, len(c.corners))
	left, at, idle, ok := len(c.corners), int32(0), 0, true
	for left > 2 {
		k := &c.corners[at]
		if ear := c.isEar(at); ear || idle > left {
			if !ear {
				ok = ok && c.turn(at) > -1e-12
				at = c.flattest(at)
				k = &c.corners[at]
			}
			visit(c.corners[k.prev].id, k.id, c.corners[k.next].id)
			c.corners[k.prev].next, c.corners[k.next].prev = k.next, k.prev
			c.gone[at] = true
			left--
			idle = 0
			at = c.corners[k.next].next // not the neighbour at once: fans of needles are avoided
			continue
		}
		idle++
		at = k.next
	}
	return ok
}

// flattest is the corner with the least turn.
func (c *clipper) flattest(from int32) int32 {
	best := from
	for i := c.corners[from].next; i != from; i = c.corners[i].next {
		if math.Abs(c.turn(i)) < math.Abs(c.turn(best)) {
			best = i
		}
	}
	return best
}

func (c *clipper) turn(i int32) float64 {
	k := &c.corners[i]
	return k.at.Sub(c.corners[k.prev].at).Cross(c.corners[k.next].at.Sub(k.at))
}

// sort puts the corners into a grid of about one a cell.
func (c *clipper) sort() {
	b := geom.EmptyBox2()
	for i := range c.corners {
		b = b.Add(c.corners[i].at)
	}
	s := b.Size()
	c.low = b.Min
	c.cell = max(s.X, s.Y)/math.Sqrt(float64(len(c.corners))) + 1e-300
	c.grid = make(map[[2]int32][]int32, len(c.corners))
	for i := range c.corners {
		if c.turn(int32(i)) <= 0 { // only these can lie in an ear; corners never become so by cutting
			key := c.key(c.corners[i].at)
			c.grid[key] = append(c.grid[key], int32(i))
		}
	}
}

func (c *clipper) key(p geom.Vec2) [2]int32 {
	return [2]int32{int32((p.X - c.low.X) / c.cell), int32((p.Y - c.low.Y) / c.cell)}
}

// isEar reports whether the corner turns left and no other corner lies in the triangle that cutting it off takes away.
func (c *clipper) isEar(i int32) bool {
	k := &c.corners[i]
	p, q := &c.corners[k.prev], &c.corners[k.next]
	if !(c.turn(i) > 0) {
		return false
	}
	lo := c.key(geom.Vec2{X: min(p.at.X, k.at.X, q.at.X), Y: min(p.at.Y, k.at.Y, q.at.Y)})
	hi := c.key(geom.Vec2{X: max(p.at.X, k.at.X, q.at.X), Y: max(p.at.Y, k.at.Y, q.at.Y)})
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for _, j := range c.grid[[2]int32{x, y}] {
				o := &c.corners[j]
				if c.gone[j] || o.at == p.at || o.at == k.at || o.at == q.at {
					continue
				}
				if inTriangle(p.at, k.at, q.at, o.at) {
					return false
				}
			}
		}
	}
	return true
}
