package decimate

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// measureGap looks from the points of was at now, and from the corners and the middles of triangles
// and edges of now at was.
func measureGap(ctx context.Context, was, now *mesh.Mesh) (Measured, error) {
	var sum gapSum
	to, err := newGrid(ctx, now)
	if err != nil {
		return Measured{}, err
	}
	if err := sum.look(ctx, to, len(was.Points), func(i int) geom.Vec { return was.Points[i].Vec() }); err != nil {
		return Measured{}, err
	}
	back, err := newGrid(ctx, was)
	if err != nil {
		return Measured{}, err
	}
	err = sum.look(ctx, back, len(now.Points)+4*len(now.Triangles), func(i int) geom.Vec {
		if i < len(now.Points) {
			return now.Points[i].Vec()
		}
		i -= len(now.Points)
		a, b, c := now.Corners(i / 4)
		switch i % 4 {
		case 1:
			return a.Add(b).Scale(0.5)
		case 2:
			return b.Add(c).Scale(0.5)
		case 3:
			return c.Add(a).Scale(0.5)
		}
		return a.Add(b).Add(c).Scale(1.0 / 3)
	})
	if err != nil || sum.n == 0 {
		return Measured{}, err
	}
	return Measured{MaxDistance: math.Sqrt(sum.most), MeanDistance: sum.sum / float64(sum.n)}, nil
}

// A gapSum gathers distances; most is squared.
type gapSum struct {
	most, sum float64
	n         int
}

// look measures n samples.
func (s *gapSum) look(ctx context.Context, g *grid, n int, sample func(int) geom.Vec) error {
	const span = 1 << 12
	parts := make([]gapSum, (n+span-1)/span)
	err := par.Spans(ctx, n, span, func(from, to int) {
		p := &parts[from/span]
		for i := from; i < to; i++ {
			d := g.distance2(sample(i))
			p.most = max(p.most, d)
			p.sum += math.Sqrt(d)
		}
	})
	for _, p := range parts {
		s.most = max(s.most, p.most)
		s.sum += p.sum
	}
	s.n += n
	return err
}

// A grid finds the triangle nearest to a point: a grid of cubes, each with the triangles that touch it.
type grid struct {
	m     *mesh.Mesh
	min   geom.Vec
	cell  float64
	n     [3]int
	start []int32
	list  []int32
}

// newGrid makes about two cubes a triangle.
func newGrid(ctx context.Context, m *mesh.Mesh) (*grid, error) {
	box := m.Box()
	size := box.Size()
	side := max(size.X, size.Y, size.Z)
	floor := max(side/1024, math.SmallestNonzeroFloat32)
	most := float64(2*len(m.Triangles) + 8)
	cell := max(math.Cbrt(max(size.X, floor)*max(size.Y, floor)*max(size.Z, floor)/most), floor)
	g := &grid{m: m, min: box.Min, cell: cell}
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		g.n[k] = int(s/cell) + 1
	}
	g.start = make([]int32, g.n[0]*g.n[1]*g.n[2]+1)
	if err := g.visit(ctx, func(c int, _ int32) { g.start[c]++ }); err != nil {
		return nil, err
	}
	sum := int32(0)
	for i, n := range g.start {
		sum += n
		g.start[i] = sum
	}
	g.list = make([]int32, sum)
	return g, g.visit(ctx, func(c int, t int32) {
		g.start[c]--
		g.list[g.start[c]] = t
	})
}

// visit calls do for each cube that a triangle's plane and box touch.
func (g *grid) visit(ctx context.Context, do func(cube int, t int32)) error {
	for t := range g.m.Triangles {
		if t%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		a, b, c := g.m.Corners(t)
		low := g.cube(geom.Vec{X: min(a.X, b.X, c.X), Y: min(a.Y, b.Y, c.Y), Z: min(a.Z, b.Z, c.Z)})
		high := g.cube(geom.Vec{X: max(a.X, b.X, c.X), Y: max(a.Y, b.Y, c.Y), Z: max(a.Z, b.Z, c.Z)})
		few := (high[0]-low[0]+1)*(high[1]-low[1]+1)*(high[2]-low[2]+1) <= 2
		n := b.Sub(a).Cross(c.Sub(a))
		reach := 0.5001 * g.cell * (math.Abs(n.X) + math.Abs(n.Y) + math.Abs(n.Z))
		for z := low[2]; z <= high[2]; z++ {
			for y := low[1]; y <= high[1]; y++ {
				for x := low[0]; x <= high[0]; x++ {
					if few || math.Abs(g.middle(x, y, z).Sub(a).Dot(n)) <= reach {
						do((z*g.n[1]+y)*g.n[0]+x, int32(t))
					}
				}
			}
		}
	}
	return nil
}

func (g *grid) middle(x, y, z int) geom.Vec {
	return g.min.Add(geom.Vec{X: float64(x) + 0.5, Y: float64(y) + 0.5, Z: float64(z) + 0.5}.Scale(g.cell))
}

// cube is where p lies, or the nearest cube.
func (g *grid) cube(p geom.Vec) [3]int {
	at := [3]int{int((p.X - g.min.X) / g.cell), int((p.Y - g.min.Y) / g.cell), int((p.Z - g.min.Z) / g.cell)}
	for k := range at {
		at[k] = min(max(at[k], 0), g.n[k]-1)
	}
	return at
}

// distance2 is the squared distance from p to the nearest triangle: cubes are searched in growing shells round p's own.
func (g *grid) distance2(p geom.Vec) float64 {
	best := math.Inf(1)
	at := g.cube(p)
	for k := 0; k <= max(g.n[0], g.n[1], g.n[2]); k++ {
		if k > 0 {
			inner := g.inside(p, at, k-1)
			if inner > 0 && inner*inner >= best {
				break
			}
		}
		g.shell(p, at, k, &best)
	}
	return best
}

// inside is how far p is from leaving the block of cubes at most k from the one at.
func (g *grid) inside(p geom.Vec, at [3]int, k int) float64 {
	least := math.Inf(1)
	for axis, v := range [3]float64{p.X - g.min.X, p.Y - g.min.Y, p.Z - g.min.Z} {
		low, high := float64(at[axis]-k)*g.cell, float64(at[axis]+k+1)*g.cell
		least = min(least, v-low, high-v)
	}
	return least
}

// shell looks through the cubes exactly k from the one at.
func (g *grid) shell(p geom.Vec, at [3]int, k int, best *float64) {
	for z := max(at[2]-k, 0); z <= min(at[2]+k, g.n[2]-1); z++ {
		for y := max(at[1]-k, 0); y <= min(at[1]+k, g.n[1]-1); y++ {
			step := 1
			if z != at[2]-k && z != at[2]+k && y != at[1]-k && y != at[1]+k && k > 0 {
				step = 2 * k
			}
			for x := at[0] - k; x <= at[0]+k; x += step {
				if x >= 0 && x < g.n[0] && g.toCube2(p, x, y, z) < *best {
					g.search(p, (z*g.n[1]+y)*g.n[0]+x, best)
				}
			}
		}
	}
}

// toCube2 is the squared distance from p to a cube.
func (g *grid) toCube2(p geom.Vec, x, y, z int) float64 {
	d, half := g.middle(x, y, z).Sub(p), g.cell/2
	d = geom.Vec{X: max(math.Abs(d.X)-half, 0), Y: max(math.Abs(d.Y)-half, 0), Z: max(math.Abs(d.Z)-half, 0)}
	return d.Dot(d)
}

func (g *grid) search(p geom.Vec, cube int, best *float64) {
	for _, t := range g.list[g.start[cube]:g.start[cube+1]] {
		a, b, c := g.m.Corners(int(t))
		*best = min(*best, toTriangle2(p, a, b, c, *best))
	}
}

// toTriangle2 is the squared distance from p to the triangle where that is less than bound, else infinity or the distance. The
// nearest point is under p or on an edge that p lies beyond.
func toTriangle2(p, a, b, c geom.Vec, bound float64) float64 {
	u, v, r := b.Sub(a), c.Sub(a), p.Sub(a)
	n := u.Cross(v)
	nn := n.Dot(n)
	if !(nn > 0) {
		return min(toEdge2(r, u), toEdge2(r, v), toEdge2(p.Sub(b), c.Sub(b)))
	}
	h := r.Dot(n)
	if h *= h; h >= bound*nn {
		return math.Inf(1)
	}
	m := n.Cross(r)
	x, y := v.Dot(m), -u.Dot(m)
	best := math.Inf(1)
	if x < 0 {
		best = toEdge2(r, v)
	}
	if y < 0 {
		best = min(best, toEdge2(r, u))
	}
	if x+y > nn {
		best = min(best, toEdge2(p.Sub(b), c.Sub(b)))
	}
	if best == math.Inf(1) {
		return h / nn
	}
	return best
}
