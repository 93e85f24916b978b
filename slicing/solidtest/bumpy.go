package solidtest

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// tile is the edge of the square patches in which triangles are numbered, so that neighbours lie near in memory.
const tile = 16

// Bumpy is a ball of radius about r pushed into an organic shape with hollows and undercuts, with about the given number
// of triangles in spatial order: what a clean scan looks like. It lies within 2r of the origin. A million triangles take
// about a tenth of a second.
func Bumpy(r float64, triangles int) *mesh.Mesh {
	m := lattice(divisions(triangles))
	for i, p := range m.Points {
		d := direction(p)
		f := 1 + 0.20*math.Sin(2.1*d.X+1.3)*math.Cos(2.7*d.Y-0.4) +
			0.13*math.Sin(5.3*d.Y+2.1*d.Z)*math.Cos(4.1*d.X+0.7) +
			0.05*math.Sin(11*d.Z+3*d.X)*math.Sin(9*d.Y+1.9)
		q := d.Scale(f * r)
		q.X += 0.35 * r * math.Sin(2.2*q.Z/r)
		q.Y += 0.15 * r * math.Sin(1.7*q.X/r)
		m.Points[i] = point(q.X, q.Y, q.Z)
	}
	return m
}

// divisions is the k for which 12k² comes nearest to n.
func divisions(n int) int { return max(1, int(math.Round(math.Sqrt(float64(n)/12)))) }

// direction carries a point of the cube's skin [-1, 1]³ to the unit ball; the tangent makes the facets nearly even.
func direction(p mesh.Point) geom.Vec {
	warp := func(t float32) float64 { return math.Tan(math.Pi / 4 * float64(t)) }
	return geom.Vec{X: warp(p[0]), Y: warp(p[1]), Z: warp(p[2])}.Unit()
}

// lattice is the skin of the cube [-1, 1]³ with k x k squares a face, two triangles each, welded.
func lattice(k int) *mesh.Mesh {
	m := &mesh.Mesh{Points: make([]mesh.Point, 6*k*k+2), Triangles: make([]mesh.Triangle, 0, 12*k*k)}
	at := func(v [3]int) int32 {
		i := skinIndex(v, k)
		for a := range 3 {
			m.Points[i][a] = float32(2*v[a]-k) / float32(k)
		}
		return i
	}
	for axis := range 3 {
		for side := range 2 {
			patches(k, func(i, j int) {
				corner := func(i, j int) int32 {
					var v [3]int
					v[axis], v[(axis+1)%3], v[(axis+2)%3] = side*k, i, j
					return at(v)
				}
				a, b, c, d := corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)
				if side == 0 {
					b, d = d, b
				}
				m.Triangles = append(m.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
			})
		}
	}
	return m
}

// patches visits the squares of a k x k grid tile by tile.
func patches(k int, visit func(i, j int)) {
	for j0 := 0; j0 < k; j0 += tile {
		for i0 := 0; i0 < k; i0 += tile {
			for j := j0; j < min(j0+tile, k); j++ {
				for i := i0; i < min(i0+tile, k); i++ {
					visit(i, j)
				}
			}
		}
	}
}

// skinIndex numbers the points of a (k+1)³ grid that lie on its skin: the bottom, the rings between, the top.
func skinIndex(v [3]int, k int) int32 {
	x, y, z := v[0], v[1], v[2]
	full := (k + 1) * (k + 1)
	switch {
	case z == 0:
		return int32(y*(k+1) + x)
	case z == k:
		return int32(full + (k-1)*4*k + y*(k+1) + x)
	}
	base := full + (z-1)*4*k
	switch {
	case y == 0 && x < k:
		return int32(base + x)
	case x == k && y < k:
		return int32(base + k + y)
	case y == k && x > 0:
		return int32(base + 2*k + k - x)
	}
	return int32(base + 3*k + k - y)
}
