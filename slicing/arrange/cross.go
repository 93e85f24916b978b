package arrange

import (
	"context"
	"math"
	"sync"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// touching is how deep, as a share of the largest coordinate, facets may reach through one another and still only touch:
// a few units in the last place of a point.
const touching = 3e-7

// Crossings lists the pairs of facets that run through one another or lie in one plane and overlap, deeper than the tolerance, and
// that have a point in common by exact signs: sheets that run close by one another don't cross. Neighbours over an edge are not
// compared. The order depends on the mesh only. Where any will do, some are enough.
func Crossings(ctx context.Context, t *boxtree.Tree, anyWillDo bool) ([]boxtree.Pair, error) {
	m, tol := t.Mesh, Tolerance(t.Mesh)
	shift := sync.OnceValue(func() int { return wholeShift(m) })
	return t.Pairs(ctx, anyWillDo, func(f, g int32) bool {
		if !crosses(m, f, g, tol) || apart(m, m.Triangles[f], m.Triangles[g]) {
			return false
		}
		met := newPointsOn(m, shift()).meet(f, g)
		return met.flat || len(met.ends) > 0
	})
}

// Tolerance is how deep facets of m may reach into one another and still only touch.
func Tolerance(m *mesh.Mesh) float64 {
	b := m.Box()
	return touching * max(-b.Min.X, -b.Min.Y, -b.Min.Z, b.Max.X, b.Max.Y, b.Max.Z)
}

// InOnePlane reports whether two facets that cross, see Crossings, do no more than lie on one another: neither runs through the other.
func InOnePlane(m *mesh.Mesh, pair boxtree.Pair) bool {
	var p, q [3]geom.Vec
	p[0], p[1], p[2] = m.Corners(int(pair[0]))
	q[0], q[1], q[2] = m.Corners(int(pair[1]))
	tol := Tolerance(m)
	dq, _ := sides(&p, normalOf(&p), &q, tol)
	dp, _ := sides(&q, normalOf(&q), &p, tol)
	return coplanar(dq) || coplanar(dp)
}

// crosses reports whether facets s and t run through one another deeper than tol.
func crosses(m *mesh.Mesh, s, t int32, tol float64) bool {
	a, b := m.Triangles[s], m.Triangles[t]
	shared, at := 0, [2]int{}
	for i, v := range a {
		for j, w := range b {
			if v == w {
				shared++
				at = [2]int{i, j}
			}
		}
	}
	if shared > 1 {
		return false
	}
	var p, q [3]geom.Vec
	p[0], p[1], p[2] = m.Corners(int(s))
	q[0], q[1], q[2] = m.Corners(int(t))
	np := normalOf(&p)
	dq, ok := sides(&p, np, &q, tol)
	if !ok {
		return coplanar(dq) && overlap(&p, &q, np, tol)
	}
	nq := normalOf(&q)
	dp, ok := sides(&q, nq, &p, tol)
	if !ok {
		return coplanar(dp) && overlap(&p, &q, nq, tol)
	}
	if shared == 1 {
		return pierces(&q, dq, at[1], &p) || pierces(&p, dp, at[0], &q)
	}
	for k := range 3 {
		if pierces(&q, dq, k, &p) || pierces(&p, dp, k, &q) {
			return true
		}
	}
	return false
}

func normalOf(p *[3]geom.Vec) geom.Vec { return p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Unit() }

// sides are the distances of q's corners from p's plane, 0 within tol; ok is false where all lie on one side.
func sides(p *[3]geom.Vec, n geom.Vec, q *[3]geom.Vec, tol float64) (d [3]float64, ok bool) {
	up, down := false, false
	for k, v := range q {
		h := n.Dot(v.Sub(p[0]))
		if math.Abs(h) <= tol {
			continue
		}
		d[k] = h
		up, down = up || h > 0, down || h < 0
	}
	return d, up && down
}

func coplanar(d [3]float64) bool { return d == [3]float64{} }

// pierces reports whether the side of q opposite corner k runs through the inside of p; d are q's distances from p's plane.
func pierces(q *[3]geom.Vec, d [3]float64, k int, p *[3]geom.Vec) bool {
	i, j := (k+1)%3, (k+2)%3
	if d[i]*d[j] >= 0 {
		return false
	}
	from, way := q[i], q[j].Sub(q[i])
	a, b, c := p[0].Sub(from), p[1].Sub(from), p[2].Sub(from)
	u, v, w := way.Dot(a.Cross(b)), way.Dot(b.Cross(c)), way.Dot(c.Cross(a))
	return u > 0 && v > 0 && w > 0 || u < 0 && v < 0 && w < 0
}

// overlap reports whether two facets in one plane with normal n have more in common than a rim of width tol.
func overlap(p, q *[3]geom.Vec, n geom.Vec, tol float64) bool {
	if n == (geom.Vec{}) || normalOf(q) == (geom.Vec{}) {
		return false
	}
	for range 2 {
		mid := p[0].Add(p[1]).Add(p[2]).Scale(1.0 / 3)
		for k := range 3 {
			out := p[(k+1)%3].Sub(p[k]).Cross(n).Unit()
			if out.Dot(mid.Sub(p[k])) > 0 {
				out = out.Scale(-1)
			}
			apart := true
			for _, v := range q {
				apart = apart && out.Dot(v.Sub(p[k])) >= -tol
			}
			if apart {
				return false
			}
		}
		p, q = q, p
	}
	return true
}
