package mesh

import "math"

const (
	deepestParts = 64 // assemblies within assemblies
	mostRepeats  = 64 // times that the file's triangles may be built on the average
)

// build lists the facets of all that the model builds, in its unit.
func (p *packageFile) build(m *model) ([]facet, error) {
	total := int64(0)
	for _, u := range m.items {
		n, err := p.count(u, 0)
		if err != nil {
			return nil, err
		}
		if total += n; total > mostFacets {
			return nil, p.source.fault(0, 0, remedyTooBig, "there are more triangles than can be read")
		}
	}
	held := int64(0)
	for _, m := range p.models {
		for _, o := range m.objects {
			held += int64(len(o.surface.triangles))
		}
	}
	if total > mostRepeats*held {
		return nil, p.source.fault(0, 0, remedyPlain, "it repeats %d triangles until they are %d", held, total)
	}
	facets := make([]facet, 0, total)
	for _, u := range m.items {
		facets = p.place(facets, u, inPlace(), m.unitMM)
	}
	for i := range facets {
		for _, v := range facets[i] {
			if v[0]-v[0] != 0 || v[1]-v[1] != 0 || v[2]-v[2] != 0 {
				return nil, p.source.fault(0, 0, remedyNumber, "a transform carries a corner to no finite place")
			}
		}
	}
	return facets, nil
}

// object is what is used, with the model that it stands in.
func (p *packageFile) object(u use) (*model, *object, error) {
	m, err := p.model(u.path)
	if err != nil {
		return nil, nil, err
	}
	o := m.objects[u.id]
	if o == nil {
		return nil, nil, p.source.fault(0, 0, remedyAgain, "object %s is used but not there", quoted([]byte(u.id)))
	}
	return m, o, nil
}

// count is how many triangles a use comes to; it reads the parts that are named.
func (p *packageFile) count(u use, depth int) (int64, error) {
	_, o, err := p.object(u)
	switch {
	case err != nil:
		return 0, err
	case o.left:
		return 0, nil
	case o.state == counted:
		return o.count, nil
	case o.state == counting || depth > deepestParts:
		return 0, p.source.fault(0, 0, remedyAgain, "object %s is part of itself or lies more than %d deep",
			quoted([]byte(u.id)), deepestParts)
	}
	o.state = counting
	n := int64(len(o.surface.triangles))
	for _, part := range o.parts {
		more, err := p.count(part, depth+1)
		if err != nil {
			return 0, err
		}
		n = min(n+more, math.MaxInt32)
	}
	o.state, o.count = counted, n
	return n, nil
}

// place adds the facets of a use that has been counted; unitMM is the unit of in.
func (p *packageFile) place(facets []facet, u use, in placement, unitMM float64) []facet {
	m, o, err := p.object(u)
	if err != nil || o.left || o.count == 0 {
		return facets
	}
	at := u.place.then(in)
	if f := m.unitMM / unitMM; f != 1 {
		at = placement{f, 0, 0, 0, f, 0, 0, 0, f}.then(at)
	}
	for _, part := range o.parts {
		facets = p.place(facets, part, at, m.unitMM)
	}
	from := len(facets)
	facets = facets[:from+len(o.surface.triangles)]
	mirrored, still := at.mirrors(), at == inPlace()
	run(len(o.surface.triangles), span, func(a, b int) {
		for i := a; i < b; i++ {
			t := o.surface.triangles[i]
			f := &facets[from+i]
			for k, v := range t {
				if f[k] = o.surface.points[v]; !still {
					f[k] = at.carry(f[k])
				}
			}
			if mirrored {
				f[1], f[2] = f[2], f[1]
			}
		}
	})
	return facets
}

// then is the placement that carries first by a, then by b.
func (a placement) then(b placement) placement {
	var out placement
	for row := range 4 {
		for col := range 3 {
			v := 0.0
			for k := range 3 {
				v += a[3*row+k] * b[3*k+col]
			}
			if row == 3 {
				v += b[9+col]
			}
			out[3*row+col] = v
		}
	}
	return out
}

func (a *placement) carry(p Point) Point {
	x, y, z := float64(p[0]), float64(p[1]), float64(p[2])
	var out Point
	for k := range out {
		out[k] = float32(x*a[k]+y*a[3+k]+z*a[6+k]+a[9+k]) + 0 // makes -0 a 0
	}
	return out
}

// mirrors reports whether left becomes right.
func (a placement) mirrors() bool {
	return a[0]*(a[4]*a[8]-a[5]*a[7])-a[1]*(a[3]*a[8]-a[5]*a[6])+a[2]*(a[3]*a[7]-a[4]*a[6]) < 0
}
