package mend

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	// smallRim is the most edges of a hole that is closed by the least-area triangulation; its work grows with the cube.
	smallRim = 400
	// angledRim is the most edges for which the angle to the neighbours counts as well.
	angledRim = 150
)

// A weight tells how good a triangulation is: first the sharpest fold, then the area.
type weight struct{ fold, area float32 }

func (w weight) less(o weight) bool {
	const near = 1e-3
	if d := w.fold - o.fold; d < -near || d > near {
		return d < 0
	}
	return w.area < o.area
}

// A patcher finds the triangulation of a closed line with the least weight, by the method of Barequet and Sharir, weighed
// after Liepa: W(i,k) is the least over m of W(i,m), W(m,k) and the triangle i, m, k.
type patcher struct {
	at      []geom.Vec
	outside []geom.Vec // normal of the solid's triangle across side i to i+1
	barred  map[[2]int32]bool
	n       int
	best    []weight
	via     []int32
}

// patchRim triangulates the hole inside a rim flush with its surroundings; ok is false where no triangulation keeps clear
// of edges that are there already.
func patchRim(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, r *rim) (out []mesh.Triangle, ok bool) {
	n := len(r.points)
	ring := make([]int32, n)
	p := patcher{n: n, at: make([]geom.Vec, n), barred: map[[2]int32]bool{}}
	if n <= angledRim {
		p.outside = make([]geom.Vec, n)
	}
	place := make(map[int32]int32, n)
	for i := range n {
		ring[i] = r.points[(n-i)%n] // against the solid's direction
		p.at[i] = m.Points[ring[i]].Vec()
		place[ring[i]] = int32(i)
		if p.outside != nil {
			h := r.halves[n-1-i]
			c := cornersOf(m, m.Triangles[h/3])
			p.outside[i] = normalOf(&c)
		}
	}
	for _, h := range r.halves {
		aroundEnd(m, adj, h, func(from, to int32) {
			i, has := place[from]
			if j, also := place[to]; has && also {
				p.barred[[2]int32{min(i, j), max(i, j)}] = true
			}
		})
	}
	if n < 3 || !p.solve(ctx) {
		return nil, false
	}
	p.emit(0, int32(n-1), func(i, j, k int32) {
		out = append(out, mesh.Triangle{ring[i], ring[j], ring[k]})
	})
	return out, true
}

// aroundEnd visits the edges of the facets round the end of half-edge h, from that end on.
func aroundEnd(m *mesh.Mesh, adj mesh.Adjacency, h int32, visit func(from, to int32)) {
	for {
		h = h/3*3 + (h+1)%3
		visit(ends(m, h))
		if adj[h] < 0 {
			return
		}
		h = adj[h]
	}
}

func (p *patcher) solve(ctx context.Context) bool {
	n := p.n
	inf := float32(math.Inf(1))
	p.best, p.via = make([]weight, n*n), make([]int32, n*n)
	for gap := 2; gap < n; gap++ {
		if ctx.Err() != nil {
			return false
		}
		for i := 0; i+gap < n; i++ {
			k := i + gap
			best, via := weight{inf, inf}, int32(-1)
			if gap < n-1 && p.barred[[2]int32{int32(i), int32(k)}] {
				p.best[i*n+k], p.via[i*n+k] = best, via
				continue
			}
			for m := i + 1; m < k; m++ {
				l, r := p.best[i*n+m], p.best[m*n+k]
				if l.area+r.area > math.MaxFloat32 {
					continue
				}
				w := p.weigh(i, m, k)
				w.fold = max(w.fold, l.fold, r.fold)
				w.area += l.area + r.area
				if via < 0 || w.less(best) {
					best, via = w, int32(m)
				}
			}
			p.best[i*n+k], p.via[i*n+k] = best, via
		}
	}
	return p.via[n-1] >= 0
}

// weigh is the area of triangle i, m, k and the sharpest fold at its sides to what lies across.
func (p *patcher) weigh(i, m, k int) weight {
	a, b, c := p.at[i], p.at[m], p.at[k]
	n := b.Sub(a).Cross(c.Sub(a))
	l := n.Len()
	w := weight{area: float32(l / 2)}
	if p.outside == nil {
		return w
	}
	if l == 0 {
		w.fold = 2
		return w
	}
	n = n.Scale(1 / l)
	w.fold = max(p.fold(n, i, m), p.fold(n, m, k))
	if i == 0 && k == p.n-1 {
		w.fold = max(w.fold, float32(1-n.Dot(p.outside[p.n-1])))
	}
	return w
}

// fold is 1 less the cosine of the angle at side i, k.
func (p *patcher) fold(n geom.Vec, i, k int) float32 {
	if k == i+1 {
		return float32(1 - n.Dot(p.outside[i]))
	}
	a, b, c := p.at[i], p.at[p.via[i*p.n+k]], p.at[k]
	o := b.Sub(a).Cross(c.Sub(a))
	l := o.Len()
	if l == 0 {
		return 2
	}
	return float32(1 - n.Dot(o)/l)
}

func (p *patcher) emit(i, k int32, visit func(i, j, k int32)) {
	if k-i < 2 {
		return
	}
	m := p.via[int(i)*p.n+int(k)]
	visit(i, m, k)
	p.emit(i, m, visit)
	p.emit(m, k, visit)
}
