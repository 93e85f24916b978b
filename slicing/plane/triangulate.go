package plane

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// Triangulate cuts the inside of rings into triangles without adding points. Outlines run counter-clockwise, holes
// clockwise; rings may touch but not cross. A triangle names its corners by their numbers, counted through all rings in
// order, and runs counter-clockwise. Every side of a ring is a side of exactly one triangle and every other side belongs to
// two, whatever the rings are; ok is false where they cross, so that triangles overlap. A hole that lies in no outline is
// filled by itself, facing the other way. Where rings touch, each has to stay within one wedge of the inside: two holes that touch are one ring through both. A hole that
// touches the outline with its rightmost corner may be apart; two triangles without area are between them.
//
// Holes are joined to the outline round them by bridges, then ears are cut off one by one (Eberly, "Triangulation by Ear
// Clipping", 2002). Signs are exact for coordinates that were float32 and are of like size.
func Triangulate(rings []geom.Ring) (triangles [][3]int32, ok bool) {
	first := make([]int32, len(rings)+1)
	for i, r := range rings {
		first[i+1] = first[i] + int32(len(r))
	}
	c := clipper{nodes: make([]node, 0, int(first[len(rings)])+4*len(rings))}
	out := make([][3]int32, 0, max(0, int(first[len(rings)])+2*len(rings)))
	ok = true
	for _, g := range families(rings) {
		c.nodes, c.seams = c.nodes[:0], c.seams[:0]
		c.add(rings[g.outline], first[g.outline])
		for _, h := range g.holes {
			ok = c.bridge(rings[h], first[h]) && ok
		}
		if g.loose {
			c.turnOver()
		}
		from := len(out)
		out = c.clip(append(out, c.seams...))
		if g.loose {
			for i, t := range out[from:] {
				out[from+i] = [3]int32{t[0], t[2], t[1]}
			}
		}
		ok = ok && !c.forced
	}
	return out, ok
}

// A family is an outline and the holes right inside it, those that reach furthest right first.
type family struct {
	outline int
	holes   []int
	loose   bool // a hole that lies in no outline
}

func families(rings []geom.Ring) []family {
	var out []family
	at := make(map[int]int) // outline -> family
	owners := Nest(rings)
	areas, right := make([]float64, len(rings)), make([]float64, len(rings))
	for i, r := range rings {
		areas[i], right[i] = r.Area(), r.Box().Max.X
		if len(r) > 2 && areas[i] >= 0 {
			at[i] = len(out)
			out = append(out, family{outline: i})
		}
	}
	for i, r := range rings {
		if len(r) < 3 || areas[i] >= 0 {
			continue
		}
		if owners[i] < 0 {
			out = append(out, family{outline: i, loose: true})
			continue
		}
		f := &out[at[owners[i]]]
		f.holes = append(f.holes, i)
	}
	for _, f := range out {
		slices.SortStableFunc(f.holes, func(a, b int) int { return cmp.Compare(right[b], right[a]) })
	}
	return out
}

// A node is a corner of an outline while ears are cut off it.
type node struct {
	at         geom.Vec2
	id         int32
	prev, next int32
}

// A clipper cuts up one outline. Its memory is used again for the next.
type clipper struct {
	nodes  []node
	seams  [][3]int32 // triangles without area between rings that touch
	gone   []bool
	forced bool // an ear was cut off that was none

	slack  float64 // a turn that rounding alone may make of a straight line
	low    geom.Vec2
	cell   float64
	nx, ny int
	start  []int32 // per cell, of items
	items  []int32 // nodes that do not turn left
	far    reaches // scratch of bridge
}

// add appends a ring and returns its first node.
func (c *clipper) add(r geom.Ring, id int32) int32 {
	from, n := int32(len(c.nodes)), int32(len(r))
	for i, p := range r {
		k := int32(i)
		c.nodes = append(c.nodes, node{p, id + k, from + (k+n-1)%n, from + (k+1)%n})
	}
	return from
}

// turnOver lets the outline run the other way.
func (c *clipper) turnOver() {
	for i := range c.nodes {
		n := &c.nodes[i]
		n.prev, n.next = n.next, n.prev
	}
}

// side is positive where p lies left of the way from a to b.
func side(a, b, p geom.Vec2) float64 { return b.Sub(a).Cross(p.Sub(a)) }

func (c *clipper) turn(i int32) float64 {
	k := &c.nodes[i]
	return side(c.nodes[k.prev].at, k.at, c.nodes[k.next].at)
}

// opensTo reports whether p lies within the angle of the inside at node i.
func (c *clipper) opensTo(i int32, p geom.Vec2) bool {
	k := &c.nodes[i]
	a, b := c.nodes[k.prev].at, c.nodes[k.next].at
	in, out := side(a, k.at, p) >= 0, side(k.at, b, p) >= 0
	if c.turn(i) >= 0 {
		return in && out
	}
	return in || out
}

// A reach is a node and how far it is, squared.
type reach struct {
	node int32
	d    float64
}

// reaches are a heap with the nearest on top: mostly the first few are all that is looked at.
type reaches []reach

func (r reaches) Len() int      { return len(r) }
func (r reaches) Swap(i, j int) { r[i], r[j] = r[j], r[i] }

func (r reaches) Less(i, j int) bool {
	return r[i].d < r[j].d || r[i].d == r[j].d && r[i].node < r[j].node
}

func (r *reaches) Push(one any) { *r = append(*r, one.(reach)) }

func (r *reaches) Pop() any {
	last := (*r)[len(*r)-1]
	*r = (*r)[:len(*r)-1]
	return last
}

// bridge joins a hole, from its rightmost corner, to the nearest corner of the outline that it sees to its right, or to one
// that it touches there. All holes joined before reach as far right, so that there is one.
func (c *clipper) bridge(r geom.Ring, id int32) bool {
	before := int32(len(c.nodes))
	from := c.add(r, id)
	right := from
	for i := from; i < int32(len(c.nodes)); i++ {
		if c.nodes[i].at.X > c.nodes[right].at.X {
			right = i
		}
	}
	m := c.nodes[right].at
	c.far = c.far[:0]
	for i := range before {
		if d := c.nodes[i].at.Sub(m); d.X > 0 || d == (geom.Vec2{}) {
			c.far = append(c.far, reach{i, d.Dot(d)})
		}
	}
	heap.Init(&c.far)
	nearest := int32(0)
	for n := 0; len(c.far) > 0; n++ {
		f := heap.Pop(&c.far).(reach)
		if c.sees(f.node, right, before) {
			c.link(f.node, right)
			return true
		}
		if n == 0 {
			nearest = f.node
		}
	}
	c.link(nearest, right)
	return false
}

// sees reports whether the straight way from node i to node q of the hole stays within the outline, whose nodes are those
// before the given one.
func (c *clipper) sees(i, q, before int32) bool {
	p, m := c.nodes[i].at, c.nodes[q].at
	if p == m { // the hole touches the outline: its next corner says on which side
		return c.opensTo(i, c.nodes[c.nodes[q].next].at)
	}
	if !c.opensTo(i, m) {
		return false
	}
	low, high := min(p.Y, m.Y), max(p.Y, m.Y)
	for j := range before {
		a, b := c.nodes[j].at, c.nodes[c.nodes[j].next].at
		if a == p || b == p || a.X < m.X && b.X < m.X || a.X > p.X && b.X > p.X ||
			a.Y < low && b.Y < low || a.Y > high && b.Y > high {
			continue
		}
		if crossing(side(m, p, a), side(m, p, b)) && crossing(side(a, b, m), side(a, b, p)) {
			return false
		}
	}
	return true
}

// crossing reports whether two places lie on different sides, or one of them on the line.
func crossing(s, t float64) bool { return s >= 0 && t <= 0 || s <= 0 && t >= 0 }

// link joins node p of the outline and node q of a hole by two sides, doubling both.
func (c *clipper) link(p, q int32) {
	n := int32(len(c.nodes))
	a, b := c.nodes[p], c.nodes[q]
	if a.at == b.at { // the way goes over from one ring to the other, without sides between
		c.seams = append(c.seams, [3]int32{c.nodes[a.prev].id, a.id, b.id}, [3]int32{c.nodes[b.prev].id, b.id, a.id})
		c.nodes[a.prev].next, c.nodes[b.prev].next = q, p
		c.nodes[q].prev, c.nodes[p].prev = a.prev, b.prev
		return
	}
	c.nodes = append(c.nodes, node{a.at, a.id, n + 1, a.next}, node{b.at, b.id, b.prev, n})
	c.nodes[a.next].prev = n
	c.nodes[b.prev].next = n + 1
	c.nodes[p].next, c.nodes[q].prev = q, p
}

// clip cuts off ears until nothing is left.
func (c *clipper) clip(out [][3]int32) [][3]int32 {
	c.sort()
	c.forced = false
	c.gone = append(c.gone[:0], make([]bool, len(c.nodes))...)
	at, idle := int32(0), 0
	for left := len(c.nodes); left > 2; {
		if !c.isEar(at) {
			if idle++; idle <= left {
				at = c.nodes[at].next
				continue
			}
			at = c.flattest(at)
			c.forced = c.forced || math.Abs(c.turn(at)) > c.slack
		}
		k := &c.nodes[at]
		out = append(out, [3]int32{c.nodes[k.prev].id, k.id, c.nodes[k.next].id})
		c.nodes[k.prev].next, c.nodes[k.next].prev = k.next, k.prev
		c.gone[at] = true
		left--
		idle = 0
		at = c.nodes[k.next].next // not the neighbour at once: fans of needles are avoided
	}
	return out
}

// flattest is the node with the least turn.
func (c *clipper) flattest(from int32) int32 {
	best := from
	for i := c.nodes[from].next; i != from; i = c.nodes[i].next {
		if math.Abs(c.turn(i)) < math.Abs(c.turn(best)) {
			best = i
		}
	}
	return best
}

// sort puts the nodes that do not turn left into a grid, about one a cell: only these can lie in an ear, and cutting never
// makes a node one of them.
func (c *clipper) sort() {
	b := geom.EmptyBox2()
	bent := 0
	for i := range c.nodes {
		b = b.Add(c.nodes[i].at)
		if c.turn(int32(i)) <= 0 {
			bent++
		}
	}
	s := b.Size()
	c.low = b.Min
	c.slack = 0x1p-49 * (s.X + s.Y) * (s.X + s.Y) // eight roundings of products of the longest differences
	c.cell = max(math.Sqrt(s.X*s.Y/float64(bent+1)), max(s.X, s.Y)/1024, 1e-300)
	c.nx, c.ny = int(s.X/c.cell)+1, int(s.Y/c.cell)+1
	c.start = append(c.start[:0], make([]int32, c.nx*c.ny+1)...)
	c.items = append(c.items[:0], make([]int32, bent)...)
	for i := range c.nodes {
		if c.turn(int32(i)) <= 0 {
			x, y := c.place(c.nodes[i].at)
			c.start[y*c.nx+x]++
		}
	}
	sum := int32(0)
	for i, n := range c.start {
		sum += n
		c.start[i] = sum
	}
	for i := range c.nodes {
		if c.turn(int32(i)) <= 0 {
			x, y := c.place(c.nodes[i].at)
			c.start[y*c.nx+x]--
			c.items[c.start[y*c.nx+x]] = int32(i)
		}
	}
}

func (c *clipper) place(p geom.Vec2) (x, y int) {
	return min(int((p.X-c.low.X)/c.cell), c.nx-1), min(int((p.Y-c.low.Y)/c.cell), c.ny-1)
}

// isEar reports whether the node turns left and no other lies in the triangle that cutting it off takes away.
func (c *clipper) isEar(i int32) bool {
	k := &c.nodes[i]
	p, q, r := c.nodes[k.prev].at, k.at, c.nodes[k.next].at
	if !(side(p, q, r) > 0) {
		return false
	}
	x0, y0 := c.place(geom.Vec2{X: min(p.X, q.X, r.X), Y: min(p.Y, q.Y, r.Y)})
	x1, y1 := c.place(geom.Vec2{X: max(p.X, q.X, r.X), Y: max(p.Y, q.Y, r.Y)})
	for y := y0; y <= y1; y++ {
		for _, j := range c.items[c.start[y*c.nx+x0]:c.start[y*c.nx+x1+1]] {
			o := c.nodes[j].at
			if c.gone[j] || o == p || o == q || o == r {
				continue
			}
			if side(p, q, o) >= 0 && side(q, r, o) >= 0 && side(r, p, o) >= 0 {
				return false
			}
		}
	}
	return true
}
