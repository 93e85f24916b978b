package decimate

import (
	"math"

	"grainstack/slicing/geom"
)

// A star is what one merging looks at: the triangles that change and what they stand for.
type star struct {
	triangles []int32 // those that stay, with another corner
	ofA       int     // how many of them are at the first end
	shared    []int32 // those that vanish
	facets    []facet
	homes     []home
}

// A home is a point of the surface as read and which of the star's facets now stands for it.
type home struct{ point, facet int32 }

// holds reports whether each point that the star's triangles stood for lies within tolerance of one of the new ones, and
// their new corner and their middles within tolerance of the surface as read at the nearest of those points.
func (s *star) holds(p *patch, at geom.Vec) bool {
	s.homes = s.homes[:0]
	limit := p.t.tolerance * (1 - 1e-6)
	nearest, reach := int32(-1), math.Inf(1)
	for _, list := range [2][]int32{s.triangles, s.shared} {
		for i, t := range list {
			for o := p.first[t]; o >= 0; o = p.t.next[o] {
				v := p.t.origin[o].Vec().Sub(p.t.middle).Sub(at)
				f := s.near(v, limit, i)
				if f < 0 {
					return false
				}
				s.homes = append(s.homes, home{o, f})
				if d := v.Dot(v); d < reach {
					nearest, reach = o, d
				}
			}
		}
	}
	if nearest >= 0 && reach > limit*limit && !p.t.touches(nearest, at.Add(p.t.middle), limit) {
		return false
	}
	return s.lies(p.t, at.Add(p.t.middle), limit)
}

// lies reports whether the middles of the facets and of their edges lie within limit of the surface as read, looked for from
// the nearest of the star's points on. The edges that do not end at the common corner are as they were.
func (s *star) lies(t *thinning, at geom.Vec, limit float64) bool {
	for i := range s.facets {
		f := &s.facets[i]
		for _, p := range [2]geom.Vec{f.u.Add(f.v).Scale(1.0 / 3), f.u.Scale(0.5)} {
			p = p.Add(at)
			nearest, reach := int32(-1), math.Inf(1)
			for _, h := range s.homes {
				d := t.origin[h.point].Vec().Sub(p)
				if l := d.Dot(d); l < reach {
					nearest, reach = h.point, l
				}
			}
			if nearest >= 0 && reach > limit*limit && !t.touches(nearest, p, limit) {
				return false
			}
		}
	}
	return true
}

// near is a facet within limit of v, which is relative to the facets' common corner; -1 where there is none. guess is looked
// at first. A facet that v lies over is taken before one whose edge is near.
func (s *star) near(v geom.Vec, limit float64, guess int) int32 {
	n := len(s.facets)
	for i := range n {
		k := guess + i
		if k >= n {
			k -= n
		}
		if f := &s.facets[k]; f.under(v, limit) {
			return int32(k)
		}
	}
	for k := range s.facets {
		if s.facets[k].distance2(v) <= limit*limit {
			return int32(k)
		}
	}
	return -1
}

// settle notes for the triangles which points they now stand for.
func (s *star) settle(p *patch) {
	for _, t := range s.triangles {
		p.first[t] = -1
	}
	for _, h := range s.homes {
		t := s.triangles[h.facet]
		p.t.next[h.point], p.first[t] = p.first[t], h.point
	}
}

// A facet is a triangle with one corner at the origin, prepared for measuring.
type facet struct {
	u, v            geom.Vec // the other corners
	normal          geom.Vec // of length 1; zero for a triangle without area
	double, longest float64  // twice the area, longest edge squared
	uu, uv, vv      float64
	inverse         float64
}

func newFacet(at, b, c geom.Vec) facet {
	f := facet{u: b.Sub(at), v: c.Sub(at)}
	n := f.u.Cross(f.v)
	f.double = n.Len()
	f.uu, f.uv, f.vv = f.u.Dot(f.u), f.u.Dot(f.v), f.v.Dot(f.v)
	f.longest = max(f.uu, f.vv, f.uu+f.vv-2*f.uv)
	if f.double > 0 {
		f.normal = n.Scale(1 / f.double)
		f.inverse = 1 / (f.double * f.double)
	}
	return f
}

// under reports whether p lies straight above or below the facet, no further than limit.
func (f *facet) under(p geom.Vec, limit float64) bool {
	if h := f.normal.Dot(p); h > limit || h < -limit || f.inverse == 0 {
		return false
	}
	pu, pv := p.Dot(f.u), p.Dot(f.v)
	a := (f.vv*pu - f.uv*pv) * f.inverse
	b := (f.uu*pv - f.uv*pu) * f.inverse
	return a >= 0 && b >= 0 && a+b <= 1
}

// distance2 is the squared distance from p to the facet.
func (f *facet) distance2(p geom.Vec) float64 {
	if f.under(p, math.Inf(1)) {
		h := f.normal.Dot(p)
		return h * h
	}
	return min(toEdge2(p, f.u), toEdge2(p, f.v), toEdge2(p.Sub(f.u), f.v.Sub(f.u)))
}

// toEdge2 is the squared distance from p to the stretch from the origin to e.
func toEdge2(p, e geom.Vec) float64 {
	if l := e.Dot(e); l > 0 {
		p = p.Sub(e.Scale(min(max(p.Dot(e)/l, 0), 1)))
	}
	return p.Dot(p)
}
