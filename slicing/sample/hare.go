package sample

import (
	"context"
	"math"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// Usual is the number of triangles that the program's own piece is made of, near enough.
const Usual = 350_000

// Hare is the resting hare in about so many triangles (within a tenth); fewer than 20,000, which could not show the ears,
// or more than 2,000,000 are not made. It is closed, a 2-manifold in one shell with its outside out, in mm, sitting on
// z = 0. The same number gives the same mesh, bit for bit, however many cores there are.
func Hare(triangles int) *mesh.Mesh {
	triangles = max(20_000, min(triangles, 2_000_000))
	f := hare()
	s := newSkin(newLattice(f, stepFor(f, triangles)))
	s.even()
	return s.mesh()
}

// stepFor is the cube that gives so many triangles: their number goes with the inverse square of the cube, counted once
// with a coarse one.
func stepFor(f figure, triangles int) float64 {
	const coarse = 5.0 // mm
	n := 2 * len(newSkin(newLattice(f, coarse)).quads)
	return coarse * math.Sqrt(float64(n)/float64(triangles))
}

// mesh cuts each quad in two.
func (s *skin) mesh() *mesh.Mesh {
	m := &mesh.Mesh{Points: make([]mesh.Point, len(s.at)), Triangles: make([]mesh.Triangle, 2*len(s.quads))}
	for i, p := range s.at {
		m.Points[i] = mesh.PointOf(p)
	}
	const span = 8192
	par.Spans(context.Background(), len(s.quads), span, func(from, to int) {
		for i := from; i < to; i++ {
			q := s.quads[i]
			if s.cutAcross(q) {
				q = [4]int32{q[1], q[2], q[3], q[0]}
			}
			m.Triangles[2*i] = mesh.Triangle{q[0], q[1], q[2]}
			m.Triangles[2*i+1] = mesh.Triangle{q[0], q[2], q[3]}
		}
	})
	return m
}

// cutAcross reports whether a quad is better cut from its second corner to its last: along the diagonal that is shorter and
// lies closer to the skin, unless that makes a sliver.
func (s *skin) cutAcross(q [4]int32) bool {
	along, across := s.strain(q[0], q[2]), s.strain(q[1], q[3])
	const sliver = 0.3 // 17 degrees in an even triangle
	a := min(s.shape(q[0], q[1], q[2]), s.shape(q[0], q[2], q[3]))
	b := min(s.shape(q[1], q[2], q[3]), s.shape(q[1], q[3], q[0]))
	if min(a, b) < sliver {
		return b > a
	}
	return across < along
}

// shape is how far a triangle is from being a sliver: its height over its longest side, 0.87 at best.
func (s *skin) shape(a, b, c int32) float64 {
	u, v := s.at[b].Sub(s.at[a]), s.at[c].Sub(s.at[a])
	w := v.Sub(u)
	return u.Cross(v).Len() / max(u.Dot(u), v.Dot(v), w.Dot(w), 1e-12)
}

// strain is how ill it suits the skin to be spanned straight from a to b: the square of their distance, and more the more
// the skin bends between them.
func (s *skin) strain(a, b int32) float64 {
	v := s.at[b].Sub(s.at[a])
	if s.at[a].Z == 0 && s.at[b].Z == 0 {
		return v.Dot(v)
	}
	return v.Dot(v) + 4*s.step*math.Abs(v.Dot(s.slope[b].Sub(s.slope[a])))
}
