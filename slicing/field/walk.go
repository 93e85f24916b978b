package field

// A ring lists for each point the triangles round it.
type ring struct{ start, items []int32 }

// ringOf sorts the corners of all triangles by point.
func ringOf(points int, b *builder) ring {
	r := ring{make([]int32, points+2), make([]int32, 3*len(b.triangles))}
	for _, t := range b.triangles {
		r.start[t[0]+2]++
		r.start[t[1]+2]++
		r.start[t[2]+2]++
	}
	for i := 2; i < len(r.start); i++ {
		r.start[i] += r.start[i-1]
	}
	for i, t := range b.triangles {
		for _, v := range t {
			r.items[r.start[v+1]] = int32(i)
			r.start[v+1]++
		}
	}
	return r
}

// of are the triangles round point v.
func (r *ring) of(v int32) []int32 { return r.items[r.start[v]:r.start[v+1]] }

// longestWalk bounds the facets that a walk passes: seeds lie a step apart, so even on the finest scan few are needed.
const longestWalk = 64

// A foot is where a walk over the surface stands: on which facet and what part of it, and the way there from p.
type foot struct {
	facet int32
	on    touch
	way   vec
	d     float64 // squared length of way
}

// footOn is the foot of p on one facet.
func (b *builder) footOn(p vec, t int32) foot {
	f := b.facet(t)
	q, on := f.nearest(p)
	q = q.sub(p)
	return foot{t, on, q, q.dot(q)}
}

// walk goes from facet t over the surface for as long as it comes nearer to p: across the side on which it stands, or from
// the corner to the nearest corner about and on to the best facet round that.
func (b *builder) walk(p vec, t int32) foot {
	at := b.footOn(p, t)
	done := int32(-1) // the corner round which all facets have been tried
	for range longestWalk {
		before := at.facet
		switch at.on {
		case onFace:
			return at
		case onA, onB, onC:
			v := b.triangles[at.facet][at.on]
			if v = b.downhill(p, v, at.d); v == done {
				return at
			}
			done = v
			for _, u := range b.ring.of(v) {
				if f := b.footOn(p, u); f.d < at.d {
					at = f
				}
			}
		default:
			at = b.across(p, at)
		}
		if at.facet == before {
			return at
		}
	}
	return at
}

// downhill goes from corner to neighbouring corner for as long as that comes nearer to p; v lies at squared distance d.
func (b *builder) downhill(p vec, v int32, d float64) int32 {
	for range longestWalk {
		next := v
		for _, u := range b.ring.of(v) {
			c := &b.triangles[u]
			n := c[1]
			if c[1] == v {
				n = c[2]
			} else if c[2] == v {
				n = c[0]
			}
			way := b.corner(n).sub(p)
			if e := way.dot(way); e < d {
				d, next = e, n
			}
		}
		if next == v {
			return v
		}
		v = next
	}
	return v
}

// across is the best foot on the facets that share the side on which p's foot stands.
func (b *builder) across(p vec, at foot) foot {
	c := &b.triangles[at.facet]
	from, to := c[0], c[1]
	switch at.on {
	case onBC:
		from, to = c[1], c[2]
	case onCA:
		from, to = c[2], c[0]
	}
	best := at
	for _, u := range b.ring.of(from) {
		if c := &b.triangles[u]; u != at.facet && (c[0] == to || c[1] == to || c[2] == to) {
			if f := b.footOn(p, u); f.d < best.d {
				best = f
			}
		}
	}
	return best
}
