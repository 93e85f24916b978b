package decimate

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A flat is how flat the surface as read is at a point: the triangles there lie no further than sag from the plane with the
// normal, and reach at least as far as the shortest edge there.
type flat struct {
	normal        mesh.Point
	sag, shortest float32 // the shortest edge squared
}

// flatness measures all points.
func flatness(ctx context.Context, m *mesh.Mesh) ([]flat, error) {
	flats := make([]flat, len(m.Points))
	for i := range m.Triangles {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		a, b, c := m.Corners(i)
		n := mesh.PointOf(b.Sub(a).Cross(c.Sub(a)))
		for _, p := range m.Triangles[i] {
			f := &flats[p].normal
			f[0] += n[0]
			f[1] += n[1]
			f[2] += n[2]
		}
	}
	for i := range flats {
		f := &flats[i]
		f.normal, f.shortest = mesh.PointOf(f.normal.Vec().Unit()), math.MaxFloat32
	}
	for i, c := range m.Triangles {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for k, p := range c {
			f, o := &flats[p], m.Points[p]
			for _, q := range [2]int32{c[(k+1)%3], c[(k+2)%3]} {
				x, y, z := m.Points[q][0]-o[0], m.Points[q][1]-o[1], m.Points[q][2]-o[2]
				h := x*f.normal[0] + y*f.normal[1] + z*f.normal[2]
				f.sag = max(f.sag, h, -h)
				f.shortest = min(f.shortest, x*x+y*y+z*z)
			}
		}
	}
	return flats, nil
}

// holds reports whether a place certainly lies within limit of the surface; r leads from there to the point.
func (f *flat) holds(r geom.Vec, limit float64) bool {
	return r.Dot(r) <= float64(f.shortest) && math.Abs(r.Dot(f.normal.Vec()))+float64(f.sag) <= limit
}

// touches reports whether at lies within limit of the surface as read, looked for from its point v on: the triangles there,
// then those at the nearest triangle's nearest corner, as long as that comes nearer.
func (t *thinning) touches(v int32, at geom.Vec, limit float64) bool {
	const mostSteps = 8
	if t.flats[v].holds(t.origin[v].Vec().Sub(at), limit) {
		return true
	}
	best := math.Inf(1)
	for range mostSteps {
		near, d := t.nearest(v, at, limit*limit)
		if d <= limit*limit {
			return true
		}
		if d >= best {
			return false
		}
		best = d
		step, reach := v, math.Inf(1)
		for _, c := range t.surface[near] {
			r := t.origin[c].Vec().Sub(at)
			if l := r.Dot(r); c != v && l < reach {
				step, reach = c, l
			}
		}
		v = step
	}
	return false
}

// nearest is the triangle nearest to at of those at point v of the surface as read, or the first within enough; squared
// distances.
func (t *thinning) nearest(v int32, at geom.Vec, enough float64) (triangle int32, distance float64) {
	const mostLooks = 32 // at a hub of very many triangles the rest are not looked at
	start := t.corner[v]
	distance = math.Inf(1)
	for _, back := range [2]bool{false, true} {
		h := start
		for range mostLooks {
			c := t.surface[h/3]
			if d := toTriangle2(at, t.origin[c[0]].Vec(), t.origin[c[1]].Vec(), t.origin[c[2]].Vec(), distance); d < distance {
				triangle, distance = h/3, d
				if d <= enough {
					return triangle, distance
				}
			}
			if h = t.turn(h, back); h == start {
				return triangle, distance
			}
			if h < 0 {
				break
			}
		}
	}
	return triangle, distance
}

// turn is the next corner at the same point, one way round or the other; -1 at a rim.
func (t *thinning) turn(h int32, back bool) int32 {
	if !back {
		return t.twins[h-h%3+(h+2)%3] // of the edge that ends at the point
	}
	if h = t.twins[h]; h >= 0 {
		h += (h+1)%3 - h%3
	}
	return h
}
