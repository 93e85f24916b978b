package decimate

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	mostAround   = 24     // triangles at a point after merging
	lengthCost   = 2.5e-5 // how much of an edge's squared length counts towards its cost, so that flat places go evenly
	mostTurn     = 0.3    // cosine of the angle by which a triangle may turn in one merging
	leastFatness = 0.06   // twice the area over the longest edge squared, below which triangles may hardly become worse:
	mostWorse    = 0.8    // to this share in one merging
	nearlyLine   = 1e-4   // below this never
	mergesEvery  = 256    // mergings between looks at the context
)

// thin draws edges together, the cheapest first, until none is left within tolerance.
func (p *patch) thin(ctx context.Context) {
	p.queue.low = len(p.queue.steps)
	for t, c := range p.triangles {
		for k, a := range c {
			b := p.triangles[t][(k+1)%3]
			if a < b && !(p.free[a] == movesTried && p.free[b] == movesTried) {
				p.offer(a, b)
			}
		}
	}
	for i := 1; ; i++ {
		e, ok := p.queue.pop()
		if !ok || i%mergesEvery == 0 && ctx.Err() != nil {
			break
		}
		if p.version[e.a] == e.versionA && p.version[e.b] == e.versionB {
			p.merge(e.a, e.b)
		}
	}
	for s := range p.queue.steps {
		p.queue.steps[s] = p.queue.steps[s][:0]
	}
}

// offer queues an edge that may be merged within tolerance by its planes.
func (p *patch) offer(a, b int32) {
	fa, fb := p.free[a], p.free[b]
	if fa == movesCut || fb == movesCut || fa == onRim && fb == onRim {
		return
	}
	_, off := p.target(a, b)
	if off > p.t.tolerance*p.t.tolerance {
		return
	}
	d := p.points[a].Sub(p.points[b])
	p.queue.push(off+lengthCost*d.Dot(d), edge{a, b, p.version[a], p.version[b]})
}

// target is where a and b would meet and the mean squared distance of that from the planes.
func (p *patch) target(a, b int32) (at geom.Vec, off float64) {
	q := p.planes[a]
	q.add(&p.planes[b])
	switch {
	case p.free[a] == onRim:
		at = p.points[a]
	case p.free[b] == onRim:
		at = p.points[b]
	default:
		pa, pb := p.points[a], p.points[b]
		at = q.best(pa.Add(pb).Scale(0.5), 2*pa.Sub(pb).Len())
	}
	return at, q.off(at)
}

// merge draws b into a, if nothing speaks against it.
func (p *patch) merge(a, b int32) {
	if p.free[b] == onRim {
		a, b = b, a
	}
	at, _ := p.target(a, b)
	at = p.rounded(at)
	s := &p.star
	if !p.links(a, b) || !p.shape(a, b, at) || !s.holds(p, at) {
		return
	}
	p.planes[a].add(&p.planes[b])
	p.points[a] = at
	if p.free[a] == movesTried {
		p.free[a] = movesAny
	}
	p.free[b] = movesGone
	p.version[a]++
	p.version[b]++
	from := int32(len(p.around))
	for i, t := range s.triangles {
		if i >= s.ofA {
			for k, v := range p.triangles[t] {
				if v == b {
					p.triangles[t][k] = a
				}
			}
		}
		p.around = append(p.around, t)
	}
	p.at[a] = span{from, int32(len(p.around))}
	for _, t := range s.shared {
		p.triangles[t][0] = noPoint
	}
	s.settle(p)
	for _, t := range s.triangles {
		for k, v := range p.triangles[t] {
			if v == a {
				p.offer(a, p.triangles[t][(k+1)%3])
			}
		}
	}
}

// links reports whether merging keeps the surface's connections: a and b have two triangles in common and no common
// neighbours but those triangles' third corners. It fills the star: a's triangles without b, then b's without a, and those
// that vanish.
func (p *patch) links(a, b int32) bool {
	s := &p.star
	s.triangles, s.shared = s.triangles[:0], s.shared[:0]
	atA, atB := p.gather(a), p.gather(b)
	if len(atA)+len(atB)-4 > mostAround || p.free[a] != onRim && len(atA)+len(atB)-4 < 3 {
		return false
	}
	p.marks++
	for _, t := range atA {
		if c := p.triangles[t]; c[0] == b || c[1] == b || c[2] == b {
			s.shared = append(s.shared, t)
		} else {
			s.triangles = append(s.triangles, t)
		}
		for _, v := range p.triangles[t] {
			p.mark[v] = p.marks
		}
	}
	if len(s.shared) != 2 {
		return false
	}
	s.ofA = len(s.triangles)
	p.mark[a], p.mark[b] = 0, 0
	common := 0
	for _, t := range atB {
		c := p.triangles[t]
		if c[0] != a && c[1] != a && c[2] != a {
			s.triangles = append(s.triangles, t)
		}
		for _, v := range c {
			if p.mark[v] == p.marks {
				p.mark[v] = 0
				common++
			}
		}
	}
	return common == 2
}

// gather is the list of triangles at v; those that are gone are struck out.
func (p *patch) gather(v int32) []int32 {
	at := &p.at[v]
	kept := at.from
	for _, t := range p.around[at.from:at.to] {
		if p.triangles[t][0] != noPoint {
			p.around[kept] = t
			kept++
		}
	}
	at.to = kept
	return p.around[at.from:kept]
}

// shape makes the new triangles and reports whether none turns over or becomes a sliver.
func (p *patch) shape(a, b int32, at geom.Vec) bool {
	s := &p.star
	s.facets = s.facets[:0]
	for i, t := range s.triangles {
		from := a
		if i >= s.ofA {
			from = b
		}
		u, v := opposite(p.triangles[t], from)
		pu, pv := p.points[u], p.points[v]
		f := newFacet(at, pu, pv)
		before := pu.Sub(p.points[from]).Cross(pv.Sub(p.points[from]))
		size := before.Len()
		if before.Dot(f.normal) < mostTurn*size {
			return false
		}
		if fat := f.double / f.longest; fat < leastFatness {
			e, g, h := pu.Sub(p.points[from]), pv.Sub(p.points[from]), pu.Sub(pv)
			if was := size / max(e.Dot(e), g.Dot(g), h.Dot(h)); fat < mostWorse*was || fat < nearlyLine {
				return false
			}
		}
		s.facets = append(s.facets, f)
	}
	return true
}

// opposite are the two corners of c after v, in order.
func opposite(c mesh.Triangle, v int32) (a, b int32) {
	switch v {
	case c[0]:
		return c[1], c[2]
	case c[1]:
		return c[2], c[0]
	}
	return c[0], c[1]
}
