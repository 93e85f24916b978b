package mend

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// leafMost is how many facets a leaf holds at the most.
const leafMost = 8

// A node of a tree stands before its children: the first comes next, the second at the first one's skip.
type node struct {
	skip        int32 // the node after all that hang below this one
	first, stop int32 // facets below, in the tree's order
	leaf        bool
}

// A box holds what hangs below a node.
type box struct{ min, max mesh.Point }

// A hierarchy sorts facets by place.
type hierarchy struct {
	m     *mesh.Mesh
	order []int32
	nodes []node
	boxes []box
}

func newHierarchy(ctx context.Context, m *mesh.Mesh) (*hierarchy, error) {
	order, keys, err := zOrder(ctx, m)
	if err != nil {
		return nil, err
	}
	h := &hierarchy{m: m, order: order, nodes: make([]node, 0, len(order)/3+1)}
	if len(order) > 0 {
		h.divide(keys, 0, len(order))
	}
	h.boxes = make([]box, len(h.nodes))
	err = par.Spans(ctx, len(h.nodes), span, func(from, to int) {
		for i := from; i < to; i++ {
			if n := &h.nodes[i]; n.leaf {
				h.boxes[i] = h.leafBox(n)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for i := len(h.nodes) - 1; i >= 0; i-- {
		if !h.nodes[i].leaf {
			h.boxes[i] = h.boxes[i+1].join(h.boxes[h.nodes[i+1].skip])
		}
	}
	return h, nil
}

// divide adds the node of facets from up to and all below it.
func (h *hierarchy) divide(keys []uint64, from, to int) {
	at := len(h.nodes)
	h.nodes = append(h.nodes, node{first: int32(from), stop: int32(to), leaf: to-from <= leafMost})
	if to-from > leafMost {
		mid := from + splitOf(keys[from:to])
		h.divide(keys, from, mid)
		h.divide(keys, mid, to)
	}
	h.nodes[at].skip = int32(len(h.nodes))
}

func (h *hierarchy) leafBox(n *node) box {
	b := emptyBox()
	for _, t := range h.order[n.first:n.stop] {
		for _, v := range h.m.Triangles[t] {
			b.add(h.m.Points[v])
		}
	}
	return b
}

func emptyBox() box {
	const far = math.MaxFloat32
	return box{mesh.Point{far, far, far}, mesh.Point{-far, -far, -far}}
}

func (b *box) add(p mesh.Point) {
	for k, v := range p {
		b.min[k], b.max[k] = min(b.min[k], v), max(b.max[k], v)
	}
}

func (b box) join(o box) box {
	for k := range b.min {
		b.min[k], b.max[k] = min(b.min[k], o.min[k]), max(b.max[k], o.max[k])
	}
	return b
}

// meets reports whether the boxes have a point in common.
func (b *box) meets(o *box) bool {
	return b.min[0] <= o.max[0] && o.min[0] <= b.max[0] && b.min[1] <= o.max[1] && o.min[1] <= b.max[1] &&
		b.min[2] <= o.max[2] && o.min[2] <= b.max[2]
}

// way2 is the squared distance from p to the box.
func (b *box) way2(p geom.Vec) float64 {
	x := max(float64(b.min[0])-p.X, p.X-float64(b.max[0]), 0)
	y := max(float64(b.min[1])-p.Y, p.Y-float64(b.max[1]), 0)
	z := max(float64(b.min[2])-p.Z, p.Z-float64(b.max[2]), 0)
	return x*x + y*y + z*z
}

// nearest is the facet nearest to p, the point of it and the squared distance; -1 where nothing lies nearer than within.
func (h *hierarchy) nearest(p geom.Vec, within float64) (facet int32, at geom.Vec, d2 float64) {
	type entry struct {
		node int32
		d2   float64
	}
	facet, d2 = -1, within*within
	var stack [128]entry
	n := 0
	if len(h.nodes) > 0 {
		stack[0], n = entry{0, h.boxes[0].way2(p)}, 1
	}
	for n > 0 {
		n--
		e := stack[n]
		if e.d2 >= d2 {
			continue
		}
		nd := &h.nodes[e.node]
		if nd.leaf {
			for _, t := range h.order[nd.first:nd.stop] {
				a, b, c := h.m.Corners(int(t))
				q := nearestOn(a, b, c, p)
				if w := q.Sub(p); w.Dot(w) < d2 {
					facet, at, d2 = t, q, w.Dot(w)
				}
			}
			continue
		}
		l, r := e.node+1, h.nodes[e.node+1].skip
		dl, dr := h.boxes[l].way2(p), h.boxes[r].way2(p)
		if dl < dr {
			l, r, dl, dr = r, l, dr, dl
		}
		stack[n], stack[n+1] = entry{l, dl}, entry{r, dr}
		n += 2
	}
	return facet, at, d2
}

// nearestOn is the point of the triangle a, b, c nearest to p, by the seven regions round a triangle (method: Ericson,
// Real-Time Collision Detection, 2005, section 5.1.5).
func nearestOn(a, b, c, p geom.Vec) geom.Vec {
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return a.Add(ab.Scale(d1 / (d1 - d3)))
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return a.Add(ac.Scale(d2 / (d2 - d6)))
	}
	va := d3*d6 - d5*d4
	if e, g := d4-d3, d5-d6; va <= 0 && e >= 0 && g >= 0 {
		return b.Add(c.Sub(b).Scale(e / (e + g)))
	}
	w := va + vb + vc
	if w == 0 {
		return a
	}
	return a.Add(ab.Scale(vb / w)).Add(ac.Scale(vc / w))
}
