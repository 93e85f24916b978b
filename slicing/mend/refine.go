package mend

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// patchMost is how many points a refined patch may get.
const patchMost = 20000

// A cloth is a patch that is being refined: its own points follow those of the rim.
type cloth struct {
	at     []geom.Vec
	size   []float64 // how long edges should be at a point
	rim    int       // the first points are those of the rim
	facets [][3]int32
}

// refinePatch divides the facets of a patch until they are as fine as the rim, after Liepa 2003, and lets the new points
// follow the curvature around (fair). triangles are in the mesh's numbers; new points are returned and numbered from next.
func refinePatch(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, r *rim, triangles []mesh.Triangle, next int32) ([]mesh.Triangle, []mesh.Point) {
	n := len(r.points)
	c := cloth{rim: n, at: make([]geom.Vec, n), size: make([]float64, n)}
	place := make(map[int32]int32, n)
	longest, mean := 0.0, 0.0
	for i, p := range r.points {
		c.at[i] = m.Points[p].Vec()
		place[p] = int32(i)
	}
	for i := range r.points {
		c.size[i] = (c.at[(i+1)%n].Sub(c.at[i]).Len() + c.at[(i+n-1)%n].Sub(c.at[i]).Len()) / 2
		mean += c.size[i] / float64(n)
	}
	for _, t := range triangles {
		f := [3]int32{place[t[0]], place[t[1]], place[t[2]]}
		c.facets = append(c.facets, f)
		for k := range 3 {
			longest = max(longest, c.at[f[k]].Sub(c.at[f[(k+1)%3]]).Len())
		}
	}
	if longest < 2*mean {
		return triangles, nil
	}
	for c.divide() && len(c.at) < patchMost && ctx.Err() == nil {
		c.relax()
	}
	if len(c.at) == n || ctx.Err() != nil {
		return triangles, nil
	}
	c.fair(ctx, m, adj, r)
	out := make([]mesh.Triangle, len(c.facets))
	for i, f := range c.facets {
		for k, v := range f {
			if int(v) < n {
				out[i][k] = r.points[v]
			} else {
				out[i][k] = next + v - int32(n)
			}
		}
	}
	points := make([]mesh.Point, 0, len(c.at)-n)
	for _, v := range c.at[n:] {
		points = append(points, mesh.PointOf(v))
	}
	return out, points
}

// divide puts a point into the middle of each facet that is too large, and reports whether any was.
func (c *cloth) divide() bool {
	some := false
	for i, f := range c.facets {
		a, b, d := c.at[f[0]], c.at[f[1]], c.at[f[2]]
		mid := a.Add(b).Add(d).Scale(1.0 / 3)
		size := (c.size[f[0]] + c.size[f[1]] + c.size[f[2]]) / 3
		large := true
		for _, v := range f {
			w := math.Sqrt2 * mid.Sub(c.at[v]).Len()
			large = large && w > size && w > c.size[v]
		}
		if !large || len(c.at) >= patchMost {
			continue
		}
		some = true
		p := int32(len(c.at))
		c.at, c.size = append(c.at, mid), append(c.size, size)
		c.facets[i] = [3]int32{f[0], f[1], p}
		c.facets = append(c.facets, [3]int32{f[1], f[2], p}, [3]int32{f[2], f[0], p})
	}
	return some
}

// relax turns edges until the angles across them sum to no more than a half turn.
func (c *cloth) relax() {
	const sweeps = 12
	for range sweeps {
		type pairing struct{ a, b int32 } // half-edges + 1
		across := make(map[[2]int32]pairing, 2*len(c.facets))
		for i, f := range c.facets {
			for k := range 3 {
				key := [2]int32{min(f[k], f[(k+1)%3]), max(f[k], f[(k+1)%3])}
				p := across[key]
				if p.a == 0 {
					p.a = int32(3*i+k) + 1
				} else {
					p.b = int32(3*i+k) + 1
				}
				across[key] = p
			}
		}
		dirty := make([]bool, len(c.facets))
		turned := false
		for i := range c.facets {
			for k := range 3 {
				f := c.facets[i]
				if dirty[i] {
					break
				}
				u, v := f[k], f[(k+1)%3]
				p := across[[2]int32{min(u, v), max(u, v)}]
				if p.b == 0 || p.a != int32(3*i+k)+1 || dirty[(p.b-1)/3] {
					continue
				}
				j := (p.b - 1) / 3
				g := c.facets[j]
				x, y := f[(k+2)%3], g[((p.b-1)%3+2)%3]
				if _, there := across[[2]int32{min(x, y), max(x, y)}]; there || !c.blunt(u, v, x, y) {
					continue
				}
				c.facets[i], c.facets[j] = [3]int32{x, u, y}, [3]int32{x, y, v}
				across[[2]int32{min(x, y), max(x, y)}] = pairing{}
				dirty[i], dirty[j], turned = true, true, true
			}
		}
		if !turned {
			return
		}
	}
}

// blunt reports whether the angles at x and y over side u, v sum to more than a half turn; two points of the rim are not
// joined.
func (c *cloth) blunt(u, v, x, y int32) bool {
	if x == y || int(x) < c.rim && int(y) < c.rim {
		return false
	}
	angle := func(p int32) (cos, sin float64) {
		a, b := c.at[u].Sub(c.at[p]), c.at[v].Sub(c.at[p])
		return a.Dot(b), a.Cross(b).Len()
	}
	cx, sx := angle(x)
	cy, sy := angle(y)
	return sx*cy+cx*sy < -1e-9*(sx*sx+sy*sy+cx*cx+cy*cy)
}

// fair moves the patch's own points so that the second differences over it and its rim become least (the discrete thin
// plate), by conjugate gradients on the normal equations.
func (c *cloth) fair(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, r *rim) {
	all, near := c.neighbours(m, adj, r)
	rows := len(c.at)
	umbrella := func(x []geom.Vec, out []geom.Vec) {
		for i := range rows {
			s := geom.Vec{}
			for _, j := range near[i] {
				s = s.Add(x[j])
			}
			out[i] = s.Scale(1 / float64(len(near[i]))).Sub(x[i])
		}
	}
	adjoint := func(y []geom.Vec, out []geom.Vec) {
		clear(out)
		for i := range rows {
			w := y[i].Scale(1 / float64(len(near[i])))
			for _, j := range near[i] {
				out[j] = out[j].Add(w)
			}
			out[i] = out[i].Sub(y[i])
		}
		clear(out[:c.rim])
		clear(out[rows:])
	}
	res, dir, g := make([]geom.Vec, rows), make([]geom.Vec, len(all)), make([]geom.Vec, len(all))
	umbrella(all, res)
	for i := range res {
		res[i] = res[i].Scale(-1)
	}
	adjoint(res, g)
	copy(dir, g)
	q := make([]geom.Vec, rows)
	now := dots(g)
	for step, stop := 0, now*1e-14; step < 3000 && now > stop; step++ {
		if step%32 == 0 && ctx.Err() != nil {
			return
		}
		umbrella(dir, q)
		a := now / dots(q)
		for i := c.rim; i < rows; i++ {
			all[i] = all[i].Add(dir[i].Scale(a))
		}
		for i := range res {
			res[i] = res[i].Sub(q[i].Scale(a))
		}
		adjoint(res, g)
		next := dots(g)
		for i := range dir {
			dir[i] = g[i].Add(dir[i].Scale(next / now))
		}
		now = next
	}
	copy(c.at, all[:rows])
}

func dots(v []geom.Vec) float64 {
	s := 0.0
	for _, w := range v {
		s += w.Dot(w)
	}
	return s
}

// neighbours are the patch's points followed by those of the solid next to the rim, and the neighbours of each point of the
// patch and its rim.
func (c *cloth) neighbours(m *mesh.Mesh, adj mesh.Adjacency, r *rim) (all []geom.Vec, near [][]int32) {
	all = append(all, c.at...)
	near = make([][]int32, len(c.at))
	join := func(i, j int32) {
		if slices.Contains(near[i], j) {
			return
		}
		near[i] = append(near[i], j)
	}
	for _, f := range c.facets {
		for k := range 3 {
			join(f[k], f[(k+1)%3])
			join(f[(k+1)%3], f[k])
		}
	}
	place := map[int32]int32{}
	for i, p := range r.points {
		place[p] = int32(i)
	}
	n := len(r.points)
	for i, h := range r.halves {
		end := int32((i + 1) % n)
		aroundEnd(m, adj, h, func(_, p int32) {
			j, ok := place[p]
			if !ok {
				j = int32(len(all))
				place[p] = j
				all = append(all, m.Points[p].Vec())
			}
			join(end, j)
		})
	}
	return all, near
}
