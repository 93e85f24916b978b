package cloud

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// leafMost is how many points a leaf of a tree holds at the most.
const leafMost = 8

// A Tree finds the points near a place: a balanced k-d tree (Bentley, Communications of the ACM 18(9), 1975).
type Tree struct {
	at    []mesh.Point // in the tree's order
	order []int32      // of each its number
	parts []parting    // of each node, numbered as in a heap
}

// A parting says that the upper half of a node's points lies at place or above it along an axis.
type parting struct {
	axis  uint8
	place float32
}

// NewTree sorts points into a tree: a tenth of a second for 300,000.
func NewTree(points []mesh.Point) *Tree {
	t := &Tree{at: append([]mesh.Point(nil), points...), order: make([]int32, len(points))}
	for i := range t.order {
		t.order[i] = int32(i)
	}
	nodes := 1
	for n := len(points); n > leafMost; n = (n + 1) / 2 {
		nodes = 2*nodes + 1
	}
	t.parts = make([]parting, nodes+1)
	t.part(1, 0, len(points))
	return t
}

// part sorts the points from up to to: the lower half along the widest axis comes first.
func (t *Tree) part(node, from, to int) {
	if to-from <= leafMost {
		return
	}
	low, high := t.at[from], t.at[from]
	for _, p := range t.at[from:to] {
		for k, v := range p {
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	axis := 0
	for k := range low {
		if high[k]-low[k] > high[axis]-low[axis] {
			axis = k
		}
	}
	mid := (from + to) / 2
	t.choose(axis, from, to, mid)
	t.parts[node] = parting{uint8(axis), t.at[mid][axis]}
	t.part(2*node, from, mid)
	t.part(2*node+1, mid, to)
}

// choose puts the point that belongs at place mid along an axis there, no greater ones before it and no lesser ones after it
// (Hoare's selection).
func (t *Tree) choose(axis, from, to, mid int) {
	for lo, hi := from, to-1; lo < hi; {
		v := t.at[(lo+hi)/2][axis]
		i, j := lo, hi
		for i <= j {
			for t.at[i][axis] < v {
				i++
			}
			for t.at[j][axis] > v {
				j--
			}
			if i <= j {
				t.at[i], t.at[j] = t.at[j], t.at[i]
				t.order[i], t.order[j] = t.order[j], t.order[i]
				i++
				j--
			}
		}
		switch {
		case mid <= j:
			hi = j
		case mid >= i:
			lo = i
		default:
			return
		}
	}
}

// Nearest is the number of the point nearest to p and the squared distance; -1 where none lies nearer than within.
func (t *Tree) Nearest(p geom.Vec, within float64) (int32, float64) {
	n := nearest{t: t, p: [3]float64{p.X, p.Y, p.Z}, at: -1, d2: within * within}
	n.look(1, 0, len(t.at))
	return n.at, n.d2
}

type nearest struct {
	t  *Tree
	p  [3]float64
	at int32
	d2 float64
}

func (n *nearest) look(node, from, to int) {
	if to-from <= leafMost {
		for i := from; i < to; i++ {
			if d2 := away2(&n.p, &n.t.at[i]); d2 < n.d2 {
				n.at, n.d2 = n.t.order[i], d2
			}
		}
		return
	}
	at, mid := n.t.parts[node], (from+to)/2
	d := n.p[at.axis] - float64(at.place)
	if d < 0 {
		n.look(2*node, from, mid)
		if d*d < n.d2 {
			n.look(2*node+1, mid, to)
		}
		return
	}
	n.look(2*node+1, mid, to)
	if d*d < n.d2 {
		n.look(2*node, from, mid)
	}
}

func away2(p *[3]float64, q *mesh.Point) float64 {
	x, y, z := p[0]-float64(q[0]), p[1]-float64(q[1]), p[2]-float64(q[2])
	return x*x + y*y + z*z
}

// Around lists the numbers of the points no farther than r from p, in no order that means anything; they are appended to into.
func (t *Tree) Around(p geom.Vec, r float64, into []int32) []int32 {
	return t.around(&[3]float64{p.X, p.Y, p.Z}, r, 1, 0, len(t.at), into)
}

func (t *Tree) around(p *[3]float64, r float64, node, from, to int, into []int32) []int32 {
	if to-from <= leafMost {
		for i := from; i < to; i++ {
			if away2(p, &t.at[i]) <= r*r {
				into = append(into, t.order[i])
			}
		}
		return into
	}
	at, mid := t.parts[node], (from+to)/2
	d := p[at.axis] - float64(at.place)
	if d <= r {
		into = t.around(p, r, 2*node, from, mid, into)
	}
	if d >= -r {
		into = t.around(p, r, 2*node+1, mid, to, into)
	}
	return into
}

// A neighbour is a point and its squared distance.
type neighbour struct {
	Point int32
	D2    float64
}

// closest lists the k points nearest to p, nearest first, fewer where there are fewer. It uses the room of into.
func (t *Tree) closest(p geom.Vec, k int, into []neighbour) []neighbour {
	c := closest{t: t, p: [3]float64{p.X, p.Y, p.Z}, k: k, found: into[:0]}
	c.look(1, 0, len(t.at))
	return c.found
}

type closest struct {
	t     *Tree
	p     [3]float64
	k     int
	found []neighbour
}

func (c *closest) reach2() float64 {
	if len(c.found) < c.k {
		return math.Inf(1)
	}
	return c.found[c.k-1].D2
}

func (c *closest) look(node, from, to int) {
	if to-from <= leafMost {
		for i := from; i < to; i++ {
			if d2 := away2(&c.p, &c.t.at[i]); d2 < c.reach2() {
				c.add(neighbour{c.t.order[i], d2})
			}
		}
		return
	}
	at, mid := c.t.parts[node], (from+to)/2
	d := c.p[at.axis] - float64(at.place)
	if d < 0 {
		c.look(2*node, from, mid)
		if d*d < c.reach2() {
			c.look(2*node+1, mid, to)
		}
		return
	}
	c.look(2*node+1, mid, to)
	if d*d < c.reach2() {
		c.look(2*node, from, mid)
	}
}

func (c *closest) add(n neighbour) {
	if len(c.found) < c.k {
		c.found = append(c.found, n)
	} else {
		c.found[c.k-1] = n
	}
	for i := len(c.found) - 1; i > 0 && c.found[i].D2 < c.found[i-1].D2; i-- {
		c.found[i], c.found[i-1] = c.found[i-1], c.found[i]
	}
}
