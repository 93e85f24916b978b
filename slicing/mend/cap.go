package mend

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
)

// capRims closes rims that lie in or near the plane with this normal, which points out of the solid, by flat facets
// between their own points, holes left open where rims lie within rims. ok is false where the rims cross seen from above.
func capRims(m *mesh.Mesh, normal geom.Vec, rims []rim) (out []mesh.Triangle, ok bool) {
	u := normal.Cross(geom.Vec{X: 1})
	if v := normal.Cross(geom.Vec{Y: 1}); v.Len() > u.Len() {
		u = v
	}
	u = u.Unit()
	v := normal.Cross(u)
	rings := make([]geom.Ring, len(rims))
	var ids []int32
	o := m.Points[rims[0].points[0]].Vec()
	for i, r := range rims {
		n := len(r.points)
		for j := range n {
			p := r.points[n-1-j] // against the solid's direction
			q := m.Points[p].Vec().Sub(o)
			rings[i] = append(rings[i], geom.Vec2{X: q.Dot(u), Y: q.Dot(v)})
			ids = append(ids, p)
		}
	}
	facets, ok := plane.Triangulate(rings)
	for _, f := range facets {
		out = append(out, mesh.Triangle{ids[f[0]], ids[f[1]], ids[f[2]]})
	}
	return out, ok
}
