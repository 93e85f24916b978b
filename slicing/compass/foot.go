package compass

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/mesh"
)

// footing is how high above the floor what touches it may lie, mm: sanding the base flat takes as much.
const footing = 0.3

// A foot is what of the full surface touches the floor when one end of an axis is down.
type foot struct {
	points []geom.Vec // on the piece, in its own frame
	under  float64    // piece units² of surface that lies on the floor, by its weight
}

// feet are the feet of both ends of the axis along d: down with d up, over with d down. heights is scratch.
func feet(m *mesh.Mesh, d geom.Vec, depth float64, weight func(int) float64, heights []float32) (down, over foot) {
	dx, dy, dz := float32(d.X), float32(d.Y), float32(d.Z)
	low, high := float32(math.MaxFloat32), float32(-math.MaxFloat32)
	for i, p := range m.Points {
		h := dx*p[0] + dy*p[1] + dz*p[2]
		heights[i] = h
		low, high = min(low, h), max(high, h)
	}
	depth = min(depth, float64(high-low)/100)
	floor, ceiling := low+float32(depth), high-float32(depth)
	for i, t := range m.Triangles {
		a, b, c := heights[t[0]], heights[t[1]], heights[t[2]]
		if min(a, b, c) <= floor {
			down.add(m, i, [3]float32{a, b, c}, floor, weight)
		}
		if max(a, b, c) >= ceiling {
			over.add(m, i, [3]float32{-a, -b, -c}, -ceiling, weight)
		}
	}
	return down, over
}

// add takes what of a facet lies no higher than the floor's footing.
func (f *foot) add(m *mesh.Mesh, i int, h [3]float32, floor float32, weight func(int) float64) {
	t := m.Triangles[i]
	within := 0
	for k := range 3 {
		a, b := m.Points[t[k]].Vec(), m.Points[t[(k+1)%3]].Vec()
		ha, hb := h[k], h[(k+1)%3]
		if ha <= floor {
			f.points = append(f.points, a)
			within++
		}
		if (ha <= floor) != (hb <= floor) {
			s := float64(floor-ha) / float64(hb-ha)
			f.points = append(f.points, a.Add(b.Sub(a).Scale(s)))
		}
	}
	if within == 3 {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
		if weight != nil {
			area *= weight(i)
		}
		f.under += area
	}
}

// tip is the tilt in degrees at which a piece with its mass at centre falls over; 0 where it stands on a point or an edge or
// doesn't stand. on carries points to the stand, floor at 0.
func (f *foot) tip(centre geom.Vec, on func(geom.Vec) geom.Vec) float64 {
	ring := make(geom.Ring, len(f.points))
	for i, p := range f.points {
		q := on(p)
		ring[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	b, ok := glue.Body{MassG: 1, Centre: centre, Base: geom.Region{ring}}.Stand()
	if !ok {
		return 0
	}
	return max(b.TipDeg, 0)
}
