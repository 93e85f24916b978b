package mend

import (
	"context"
	"math"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// samplesMost is how many points of each surface are measured against the other.
const samplesMost = 60000

// apart measures how far the scan and the solid lie from one another: points spread evenly over the area of each, and the
// middles of facets, against the nearest facet of the other. Of the scan only the outside counts: what lies inside the solid
// where shells overlap is not lost detail. Of the solid only what the scan has counts, not what closes its holes: places
// whose nearest point is on an open edge are left out.
func apart(ctx context.Context, scan *mesh.Mesh, adj mesh.Adjacency, solid *mesh.Mesh) (way, error) {
	outside, err := newWindingTree(ctx, scan)
	if err != nil {
		return way{}, err
	}
	hair := 1e-4 * scan.Box().Size().Len()
	a, err := boxtree.New(ctx, solid)
	if err != nil {
		return way{}, err
	}
	there, err := wayTo(ctx, scan, a, func(p, n geom.Vec) bool { return outside.winding(p.Add(n.Scale(hair))) < 0.5 }, nil)
	if err != nil {
		return way{}, err
	}
	back, err := wayTo(ctx, solid, outside.Tree, nil, func(f int32, q geom.Vec) bool { return !onRim(scan, adj, f, q, 1e-3*hair) })
	return there.with(back), err
}

// A way sums up distances over an area.
type way struct {
	most      float64
	at        geom.Vec // where it is most
	sum, area float64  // of distance times area
}

func (w way) with(o way) way {
	if o.most > w.most {
		w.most, w.at = o.most, o.at
	}
	w.sum, w.area = w.sum+o.sum, w.area+o.area
	return w
}

// mean is over the area, 0 where there is none.
func (w way) mean() float64 {
	if w.area == 0 {
		return 0
	}
	return w.sum / w.area
}

// onRim reports whether point q of facet f lies on an open edge.
func onRim(m *mesh.Mesh, adj mesh.Adjacency, f int32, q geom.Vec, tol float64) bool {
	for h := 3 * f; h < 3*f+3; h++ {
		if adj[h] >= 0 {
			continue
		}
		from, to := ends(m, h)
		a, b := m.Points[from].Vec(), m.Points[to].Vec()
		if boxtree.NearestOn(a, b, b, q).Sub(q).Len() <= tol {
			return true
		}
	}
	return false
}

// A sample is a point of a facet and the area that it stands for.
type sample struct {
	facet int32
	at    geom.Vec
	area  float64
}

// samplesOf are samplesMost points evenly spread over a surface's area, and of every so many facets the middle, for no area:
// small facets often lie where something went.
func samplesOf(m *mesh.Mesh) []sample {
	out := make([]sample, 0, 2*samplesMost)
	total := 0.0
	for i := range m.Triangles {
		total += areaOf(m, i)
	}
	each, from := total/samplesMost, 0.0
	stride := max(1, len(m.Triangles)/samplesMost)
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		if i%stride == 0 {
			out = append(out, sample{int32(i), a.Add(b).Add(c).Scale(1.0 / 3), 0})
		}
		for from += areaOf(m, i); from > each && each > 0; from -= each {
			// Points of a facet one after another by the plastic number's sequence, folded into the triangle.
			_, u := math.Modf(0.5 + 0.7548776662466927*float64(len(out)))
			_, v := math.Modf(0.5 + 0.5698402909980532*float64(len(out)))
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			out = append(out, sample{int32(i), a.Add(b.Sub(a).Scale(u)).Add(c.Sub(a).Scale(v)), each})
		}
	}
	return out
}

func areaOf(m *mesh.Mesh, i int) float64 {
	a, b, c := m.Corners(i)
	return b.Sub(a).Cross(c.Sub(a)).Len() / 2
}

// wayTo measures samples of m against h; counts may leave out some by place and normal, meets some by the facet and the
// point that are nearest.
func wayTo(ctx context.Context, m *mesh.Mesh, h *boxtree.Tree, counts func(p, n geom.Vec) bool, meets func(f int32, q geom.Vec) bool) (way, error) {
	samples := samplesOf(m)
	const size = 512
	parts := make([]way, (len(samples)+size-1)/size)
	err := par.Spans(ctx, len(samples), size, func(from, to int) {
		w := &parts[from/size]
		for _, s := range samples[from:to] {
			c := cornersOf(m, m.Triangles[s.facet])
			if counts != nil && !counts(s.at, normalOf(&c)) {
				continue
			}
			f, q, d2 := h.Nearest(s.at, math.Inf(1))
			if meets != nil && !meets(f, q) {
				continue
			}
			d := math.Sqrt(d2)
			*w = w.with(way{most: d, at: s.at, sum: d * s.area, area: s.area})
		}
	})
	var all way
	for _, w := range parts {
		all = all.with(w)
	}
	return all, err
}
