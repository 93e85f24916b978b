package field

import "math"

// A facet is a triangle in grid steps.
type facet struct{ a, b, c vec }

// vec is a place in grid steps, kept short so that the inner loops stay in registers.
type vec struct{ x, y, z float64 }

func (v vec) sub(w vec) vec              { return vec{v.x - w.x, v.y - w.y, v.z - w.z} }
func (v vec) dot(w vec) float64          { return v.x*w.x + v.y*w.y + v.z*w.z }
func (v vec) along(w vec, t float64) vec { return vec{v.x + t*w.x, v.y + t*w.y, v.z + t*w.z} }
func (v vec) cross(w vec) vec {
	return vec{v.y*w.z - v.z*w.y, v.z*w.x - v.x*w.z, v.x*w.y - v.y*w.x}
}

// A touch says on what part of a facet the nearest point lies.
type touch uint8

const (
	onA touch = iota
	onB
	onC
	onAB
	onBC
	onCA
	onFace
)

// nearest is the point of the facet nearest to p and the part of the facet on which it lies. It sorts p into the seven
// regions round a triangle (method: Ericson, Real-Time Collision Detection, 2005, section 5.1.5). A facet without area
// answers for its edges.
func (f *facet) nearest(p vec) (vec, touch) {
	ab, ac, ap := f.b.sub(f.a), f.c.sub(f.a), p.sub(f.a)
	d1, d2 := ab.dot(ap), ac.dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return f.a, onA
	}
	bp := p.sub(f.b)
	d3, d4 := ab.dot(bp), ac.dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return f.b, onB
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 && d1 > d3 {
		return f.a.along(ab, d1/(d1-d3)), onAB
	}
	cp := p.sub(f.c)
	d5, d6 := ab.dot(cp), ac.dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return f.c, onC
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 && d2 > d6 {
		return f.a.along(ac, d2/(d2-d6)), onCA
	}
	va := d3*d6 - d5*d4
	if e, g := d4-d3, d5-d6; va <= 0 && e >= 0 && g >= 0 && e+g > 0 {
		return f.b.along(f.c.sub(f.b), e/(e+g)), onBC
	}
	if sum := va + vb + vc; va >= 0 && vb >= 0 && vc >= 0 && sum > 0 {
		return f.a.along(ab, vb/sum).along(ac, vc/sum), onFace
	}
	return f.nearestSide(p)
}

// nearestSide is for facets so thin that rounding hides in which region p lies.
func (f *facet) nearestSide(p vec) (vec, touch) {
	best, on, least := f.a, onA, math.Inf(1)
	for i, s := range [3][2]vec{{f.a, f.b}, {f.b, f.c}, {f.c, f.a}} {
		d := s[1].sub(s[0])
		q := s[0]
		if l := d.dot(d); l > 0 {
			q = s[0].along(d, clamp(p.sub(s[0]).dot(d)/l, 0, 1))
		}
		if r := q.sub(p); r.dot(r) < least {
			best, on, least = q, onAB+touch(i), r.dot(r)
		}
	}
	return best, on
}
