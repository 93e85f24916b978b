package stack

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// An Edge runs straight from A to B.
type Edge struct{ A, B geom.Vec2 }

// ShadowEdges are, for each of a slab's Parts in their order, edges seen from above whose windings are above 0 exactly where
// the part lies between the slab's joints. Whatever is highest at a place either faces up or is cut by the upper joint; these
// are the edges round all that does: where facets that face up meet others or the lower joint, and where the upper joint cuts
// facets that do not face up.
func (d *Division) ShadowEdges(slab int) [][]Edge {
	c := d.cutter
	m, low, high := c.slicer.mesh, c.heights[2*slab], c.heights[2*slab+1]
	out := make([][]Edge, len(d.Parts[slab]))
	for t, tri := range m.Triangles {
		part := d.Of(t, slab)
		if part < 0 {
			continue
		}
		add := func(e Edge, ok bool) {
			if ok && e.A != e.B {
				out[part] = append(out[part], e)
			}
		}
		p := [3]geom.Vec{m.Points[tri[0]].Vec(), m.Points[tri[1]].Vec(), m.Points[tri[2]].Vec()}
		if !facesUp(m, t) {
			add(cutAt(p, high))
			continue
		}
		add(cutAt(p, low))
		for k := range 3 {
			if twin := c.slicer.twins[3*t+k]; twin < 0 || !facesUp(m, int(twin/3)) {
				add(clipped(p[k], p[(k+1)%3], low, high))
			}
		}
	}
	return out
}

func facesUp(m *mesh.Mesh, t int) bool {
	tri := m.Triangles[t]
	a, b, c := m.Points[tri[0]].Vec(), m.Points[tri[1]].Vec(), m.Points[tri[2]].Vec()
	return (b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X) > 0
}

// cutAt is where a height cuts a triangle, with the solid on the left. A corner at the height counts as above it.
func cutAt(p [3]geom.Vec, z float64) (e Edge, ok bool) {
	for k, a := range p {
		switch b := p[(k+1)%3]; {
		case a.Z >= z && b.Z < z:
			e.A, ok = passing(a, b, z), true
		case a.Z < z && b.Z >= z:
			e.B = passing(a, b, z)
		}
	}
	return e, ok
}

// clipped is what two heights leave of the way from a to b.
func clipped(a, b geom.Vec, low, high float64) (Edge, bool) {
	if max(a.Z, b.Z) < low || min(a.Z, b.Z) >= high {
		return Edge{}, false
	}
	end := func(p geom.Vec) geom.Vec2 {
		switch {
		case p.Z < low:
			return passing(a, b, low)
		case p.Z >= high:
			return passing(a, b, high)
		}
		return geom.Vec2{X: p.X, Y: p.Y}
	}
	return Edge{end(a), end(b)}, true
}

// passing is where the way from a to b, or from b to a, passes a height.
func passing(a, b geom.Vec, z float64) geom.Vec2 {
	if a.Z > b.Z {
		a, b = b, a
	}
	s := (z - a.Z) / (b.Z - a.Z)
	return geom.Vec2{X: a.X + (b.X-a.X)*s, Y: a.Y + (b.Y-a.Y)*s}
}
