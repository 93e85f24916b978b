package solidtest

import (
	"math/rand"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// SquaredBox is a box with corner at the origin whose sides are cut into n x n rectangles of two triangles.
func SquaredBox(a, b, c float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	number := map[[3]int]int32{}
	at := func(v [3]int) int32 {
		i, ok := number[v]
		if !ok {
			i = int32(len(m.Points))
			number[v] = i
			f := func(k int, s float64) float64 { return s * float64(v[k]) / float64(n) }
			m.Points = append(m.Points, mesh.PointOf(geom.Vec{X: f(0, a), Y: f(1, b), Z: f(2, c)}))
		}
		return i
	}
	for axis := range 3 {
		for _, side := range [2]int{0, n} {
			for j := range n {
				for i := range n {
					corner := func(i, j int) int32 {
						var v [3]int
						v[axis], v[(axis+1)%3], v[(axis+2)%3] = side, i, j
						return at(v)
					}
					p, q, r, s := corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)
					if side == 0 {
						q, s = s, q
					}
					m.Triangles = append(m.Triangles, mesh.Triangle{p, q, r}, mesh.Triangle{p, r, s})
				}
			}
		}
	}
	return m
}

// Roughened is m with each point moved along its normal by at most depth either way, all depths alike.
func Roughened(m *mesh.Mesh, depth float64, seed int64) *mesh.Mesh {
	rnd := rand.New(rand.NewSource(seed))
	normals := make([]geom.Vec, len(m.Points))
	for t, c := range m.Triangles {
		a, b, d := m.Corners(t)
		n := b.Sub(a).Cross(d.Sub(a))
		for _, p := range c {
			normals[p] = normals[p].Add(n)
		}
	}
	out := &mesh.Mesh{Points: make([]mesh.Point, len(m.Points)), Triangles: m.Triangles}
	for i, p := range m.Points {
		out.Points[i] = mesh.PointOf(p.Vec().Add(normals[i].Unit().Scale(depth * (2*rnd.Float64() - 1))))
	}
	return out
}
