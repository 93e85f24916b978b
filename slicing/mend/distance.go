package mend

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// samplesMost is how many points of each surface are measured against the other.
const samplesMost = 60000

// apart measures how far the scan and the solid lie from one another: the largest and the mean of the distances of points
// spread over each to the nearest facet of the other. Of the scan only the outside counts: what lies inside the solid where
// shells overlap is not lost detail. Of the solid only what the scan has counts, not what closes its holes: places whose
// nearest point is on an open edge are left out.
func apart(ctx context.Context, scan *mesh.Mesh, adj mesh.Adjacency, solid *mesh.Mesh) (most, mean float64, err error) {
	outside, err := NewTree(ctx, scan)
	if err != nil {
		return 0, 0, err
	}
	hair := 1e-4 * scan.Box().Size().Len()
	a, err := newHierarchy(ctx, solid)
	if err != nil {
		return 0, 0, err
	}
	there, err := wayTo(ctx, scan, a, func(p, n geom.Vec) bool { return outside.Winding(p.Add(n.Scale(hair))) < 0.5 }, nil)
	if err != nil {
		return 0, 0, err
	}
	back, err := wayTo(ctx, solid, outside.hierarchy, nil, func(f int32, q geom.Vec) bool { return !onRim(scan, adj, f, q, 1e-3*hair) })
	if err != nil {
		return 0, 0, err
	}
	sum, count := there.sum+back.sum, there.count+back.count
	if count == 0 {
		return 0, 0, nil
	}
	return max(there.most, back.most), sum / float64(count), nil
}

// A way sums up distances.
type way struct {
	most, sum float64
	count     int
}

// onRim reports whether point q of facet f lies on an open edge.
func onRim(m *mesh.Mesh, adj mesh.Adjacency, f int32, q geom.Vec, tol float64) bool {
	for h := 3 * f; h < 3*f+3; h++ {
		if adj[h] >= 0 {
			continue
		}
		from, to := ends(m, h)
		a, b := m.Points[from].Vec(), m.Points[to].Vec()
		if nearestOn(a, b, b, q).Sub(q).Len() <= tol {
			return true
		}
	}
	return false
}

// wayTo measures the middles of facets of m, evenly chosen, against h; counts may leave out some by place and normal, meets
// some by the facet and the point that are nearest.
func wayTo(ctx context.Context, m *mesh.Mesh, h *hierarchy, counts func(p, n geom.Vec) bool, meets func(f int32, q geom.Vec) bool) (way, error) {
	stride := max(1, len(m.Triangles)/samplesMost)
	n := (len(m.Triangles) + stride - 1) / stride
	const size = 512
	parts := make([]way, (n+size-1)/size)
	err := par.Spans(ctx, n, size, func(from, to int) {
		w := &parts[from/size]
		for i := from; i < to; i++ {
			c := cornersOf(m, m.Triangles[i*stride])
			p := c[0].Add(c[1]).Add(c[2]).Scale(1.0 / 3)
			if counts != nil && !counts(p, normalOf(&c)) {
				continue
			}
			f, q, d2 := h.nearest(p, math.Inf(1))
			if meets != nil && !meets(f, q) {
				continue
			}
			d := math.Sqrt(d2)
			w.most, w.sum, w.count = max(w.most, d), w.sum+d, w.count+1
		}
	})
	var all way
	for _, w := range parts {
		all.most, all.sum, all.count = max(all.most, w.most), all.sum+w.sum, all.count+w.count
	}
	return all, err
}
