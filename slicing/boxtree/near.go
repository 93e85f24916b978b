package boxtree

import "grainstack/slicing/geom"

// Nearest is the facet nearest to p, the point of it and the squared distance; -1 where nothing lies nearer than within.
func (t *Tree) Nearest(p geom.Vec, within float64) (facet int32, at geom.Vec, d2 float64) {
	type entry struct {
		node int32
		d2   float64
	}
	facet, d2 = -1, within*within
	var stack [128]entry
	n := 0
	if len(t.Nodes) > 0 {
		stack[0], n = entry{0, t.Boxes[0].way2(p)}, 1
	}
	for n > 0 {
		n--
		e := stack[n]
		if e.d2 >= d2 {
			continue
		}
		nd := &t.Nodes[e.node]
		if nd.Leaf {
			for _, f := range t.Order[nd.First:nd.Stop] {
				a, b, c := t.Mesh.Corners(int(f))
				q := NearestOn(a, b, c, p)
				if w := q.Sub(p); w.Dot(w) < d2 {
					facet, at, d2 = f, q, w.Dot(w)
				}
			}
			continue
		}
		l, r := e.node+1, t.Nodes[e.node+1].Skip
		dl, dr := t.Boxes[l].way2(p), t.Boxes[r].way2(p)
		if dl < dr {
			l, r, dl, dr = r, l, dr, dl
		}
		stack[n], stack[n+1] = entry{l, dl}, entry{r, dr}
		n += 2
	}
	return facet, at, d2
}

// NearestOn is the point of the triangle a, b, c nearest to p, by the seven regions round a triangle (method: Ericson,
// Real-Time Collision Detection, 2005, section 5.1.5).
func NearestOn(a, b, c, p geom.Vec) geom.Vec {
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

// Within calls visit for each facet whose leaf's box comes within reach of p.
func (t *Tree) Within(p geom.Vec, reach float64, visit func(facet int32)) {
	for i := int32(0); int(i) < len(t.Nodes); {
		n := &t.Nodes[i]
		if t.Boxes[i].way2(p) > reach*reach {
			i = n.Skip
			continue
		}
		if n.Leaf {
			for _, f := range t.Order[n.First:n.Stop] {
				visit(f)
			}
		}
		i++
	}
}
