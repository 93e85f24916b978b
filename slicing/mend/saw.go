package mend

import (
	"context"
	"errors"

	"grainstack/slicing/arrange"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// sawn is what of m lies on the kept side of the plane, left open at the cut; whole reports that nothing was cut off. A
// point closer to the plane than rounding lies on it, and a facet goes unless it has a point on the kept side, so that a
// flat face on the plane is cut off and closed again by the cap.
func sawn(ctx context.Context, m *mesh.Mesh, p Plane) (out *mesh.Mesh, whole bool, err error) {
	l := p.Normal.Len()
	if !(l > 0) {
		return nil, false, errors.New("mend: the saw plane has no direction")
	}
	n, d := p.Normal.Scale(1/l), p.D/l
	tol := arrange.Tolerance(m)
	height := make([]float64, len(m.Points))
	whole = true
	for i, q := range m.Points {
		if i&(1<<18-1) == 0 && ctx.Err() != nil {
			return nil, false, ctx.Err()
		}
		h := n.Dot(q.Vec()) - d
		if abs(h) <= tol {
			h = 0
		}
		height[i] = h
	}
	c := cutter{m: m, height: height, made: map[[2]int32]int32{}}
	c.out = &mesh.Mesh{Points: append([]mesh.Point(nil), m.Points...), Triangles: make([]mesh.Triangle, 0, len(m.Triangles))}
	for i, t := range m.Triangles {
		if i&(1<<17-1) == 0 && ctx.Err() != nil {
			return nil, false, ctx.Err()
		}
		below := height[t[0]] < 0 || height[t[1]] < 0 || height[t[2]] < 0
		whole = whole && !below
		switch {
		case !(height[t[0]] > 0 || height[t[1]] > 0 || height[t[2]] > 0):
		case !below:
			c.out.Triangles = append(c.out.Triangles, t)
		default:
			c.cut(t)
		}
	}
	if len(c.out.Triangles) == 0 {
		return nil, false, errors.New("mend: the saw plane leaves nothing of the piece")
	}
	if whole {
		return m, true, nil
	}
	return c.out, false, nil
}

// A cutter cuts facets at height 0.
type cutter struct {
	m, out *mesh.Mesh
	height []float64
	made   map[[2]int32]int32
}

// cut adds what of a facet lies above.
func (c *cutter) cut(t mesh.Triangle) {
	var poly [4]int32
	n := 0
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		if c.height[a] >= 0 {
			poly[n] = a
			n++
		}
		if c.height[a]*c.height[b] < 0 {
			poly[n] = c.point(a, b)
			n++
		}
	}
	for k := 2; k < n; k++ {
		if a, b, d := poly[0], poly[k-1], poly[k]; a != b && b != d && d != a {
			c.out.Triangles = append(c.out.Triangles, mesh.Triangle{a, b, d})
		}
	}
}

// point is where the edge of a and b is cut, the same from both sides.
func (c *cutter) point(a, b int32) int32 {
	a, b = min(a, b), max(a, b)
	if p, ok := c.made[[2]int32{a, b}]; ok {
		return p
	}
	t := c.height[a] / (c.height[a] - c.height[b])
	v, w := c.m.Points[a].Vec(), c.m.Points[b].Vec()
	p := int32(len(c.out.Points))
	c.out.Points = append(c.out.Points, mesh.PointOf(v.Add(w.Sub(v).Scale(t))))
	c.made[[2]int32{a, b}] = p
	return p
}

// onPlane reports whether all points of a rim lie on the plane within tol.
func onPlane(m *mesh.Mesh, r *rim, p Plane, tol float64) bool {
	l := p.Normal.Len()
	for _, q := range r.points {
		if abs(p.Normal.Dot(m.Points[q].Vec())-p.D) > tol*l {
			return false
		}
	}
	return true
}

// capSaw closes the rims on the saw plane flat.
func capSaw(m *mesh.Mesh, adj mesh.Adjacency, p Plane) (*mesh.Mesh, mesh.Adjacency) {
	tol := 4 * arrange.Tolerance(m)
	var cuts []rim
	for _, r := range rimsOf(m, adj, looseSides(m, adj)) {
		if r.open && onPlane(m, &r, p, tol) {
			cuts = append(cuts, r)
		}
	}
	if len(cuts) == 0 {
		return m, adj
	}
	facets, _ := capRims(m, geom.Vec{}.Sub(p.Normal).Unit(), cuts)
	out := &mesh.Mesh{Points: m.Points, Triangles: append(append([]mesh.Triangle(nil), m.Triangles...), facets...)}
	return out, out.Adjacency()
}
