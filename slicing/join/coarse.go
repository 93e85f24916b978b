package join

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// coarseSteps is how many steps of the coarse grid the longest side has at the most, finer ones would not tell more of unseen places;
	// coarser is how many fine steps one of them is at the least.
	coarseSteps, coarser = 160, 2
	// margin is how far the finest of the coarse grids goes beyond the scans on each side, by the longest side; each coarser one goes
	// twice as far, so that its bounds, outside of the piece, do not push the surface in where nobody saw it.
	margin = 0.1
	// outside is the most that the function may be at the bounds: the surface does not pass them.
	outside = 0.4
	// held is how strongly the function is held to one half at the points.
	held = 4.0
	// slope is the fall of the function across the surface, for one step.
	slope = 0.7
	// levels of grids, each twice as fine as the one before; passes of conjugate gradients on each.
	levels, passes = 5, 40
)

// A grid is a function on nodes of a box: 1 inside the piece, 0 outside.
type grid struct {
	low  geom.Vec
	step float64
	n    [3]int
	v    []float32
}

func newGrid(box geom.Box, step float64) *grid {
	g := &grid{low: box.Min, step: step}
	size := box.Size()
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		g.n[k] = int(math.Ceil(s/step)) + 1
	}
	g.v = make([]float32, g.n[0]*g.n[1]*g.n[2])
	return g
}

// cell is the cell in which a place lies, by the number of its lowest node, and how far in it the place is, 0 to 1 along each axis.
func (g *grid) cell(p geom.Vec) (node int, f [3]float64) {
	q := p.Sub(g.low).Scale(1 / g.step)
	var at [3]int
	for k, x := range [3]float64{q.X, q.Y, q.Z} {
		at[k] = max(0, min(g.n[k]-2, int(x)))
		f[k] = math.Max(0, math.Min(1, x-float64(at[k])))
	}
	return (at[2]*g.n[1]+at[1])*g.n[0] + at[0], f
}

// corners visits the eight nodes round a place with the share that each has in it.
func (g *grid) corners(node int, f [3]float64, visit func(node int, share float64)) {
	for c := range 8 {
		share, at := 1.0, node
		for k, stride := range [3]int{1, g.n[0], g.n[0] * g.n[1]} {
			if c>>k&1 == 1 {
				share *= f[k]
				at += stride
			} else {
				share *= 1 - f[k]
			}
		}
		visit(at, share)
	}
}

// value is the function between the nodes.
func (g *grid) value(p geom.Vec) float64 {
	node, f := g.cell(p)
	sx, sy := g.n[0], g.n[0]*g.n[1]
	mix := func(a int) float64 { return float64(g.v[a])*(1-f[0]) + float64(g.v[a+1])*f[0] }
	low := mix(node)*(1-f[1]) + mix(node+sx)*f[1]
	high := mix(node+sy)*(1-f[1]) + mix(node+sy+sx)*f[1]
	return low*(1-f[2]) + high*f[2]
}

// distance is how far outside the surface of the function a place lies, negative inside: near it a length, farther off only a sign.
func (g *grid) distance(p geom.Vec) float64 { return (0.5 - g.value(p)) * g.step / slope }

// inside solves for what is inside.
func inside(ctx context.Context, witnesses []witness, box geom.Box, fine float64, report func(float64)) (*grid, error) {
	size := box.Size()
	longest := math.Max(size.X, math.Max(size.Y, size.Z))
	step := math.Max(longest/coarseSteps, coarser*fine)
	var last *grid
	for l := levels - 1; l >= 0; l-- {
		times := float64(int(1) << l)
		m := geom.Vec{X: 1, Y: 1, Z: 1}.Scale(margin * longest * times)
		g := newGrid(geom.Box{Min: box.Min.Sub(m), Max: box.Max.Add(m)}, step*times)
		s, err := newSystem(ctx, g, witnesses)
		if err != nil {
			return nil, err
		}
		if last != nil {
			if err := s.start(ctx, last); err != nil {
				return nil, err
			}
		}
		if err := s.solve(ctx, passes); err != nil {
			return nil, err
		}
		last = g
		report(math.Pow(8, -float64(l)))
	}
	return last, nil
}

// A system is the equations of least squares on a grid: along each edge the function falls as the normals say, at the points it passes
// one half. At the box's sides it is what a wider grid says, 0 at the widest.
type system struct {
	*grid
	hold, right []float32 // of each node: what it is held with, the right side
}

func newSystem(ctx context.Context, g *grid, witnesses []witness) (*system, error) {
	s := &system{grid: g, hold: make([]float32, len(g.v)), right: make([]float32, len(g.v))}
	n := len(g.v)
	var normals [3][]float32
	for k := range normals {
		normals[k] = make([]float32, n)
	}
	aim := make([]float32, n)
	flat := 1 / (g.step * g.step)
	for i := range witnesses {
		w := &witnesses[i]
		p := w.at.Vec()
		node, f := g.cell(p)
		area := float64(w.area) * flat
		g.corners(node, f, func(at int, share float64) {
			for k := range normals {
				normals[k][at] += float32(share*area) * w.normal[k]
			}
			h := share * area * float64(w.trust)
			s.hold[at] += float32(h)
			aim[at] += float32(h * g.ahead(at, w))
		})
	}
	strides := [3]int{1, g.n[0], g.n[0] * g.n[1]}
	_, err := s.inner(ctx, func(from, to int) float64 {
		for at := from; at < to; at++ {
			for k, stride := range strides { // what the edges to both sides fall, the one less the other
				s.right[at] += (normals[k][at+stride] - normals[k][at-stride]) / 2
			}
			if s.hold[at] > 0 {
				target := 0.5 - slope*aim[at]/s.hold[at]
				s.hold[at] *= held
				s.right[at] += s.hold[at] * max(0, min(1, target))
			}
		}
		return 0
	})
	return s, err
}

// ahead is how far outside a witness's plane a node lies, in steps.
func (g *grid) ahead(node int, w *witness) float64 {
	x, y, z := node%g.n[0], node/g.n[0]%g.n[1], node/(g.n[0]*g.n[1])
	p := g.low.Add(geom.Vec{X: float64(x), Y: float64(y), Z: float64(z)}.Scale(g.step))
	return p.Sub(w.at.Vec()).Dot(w.normal.Vec()) / g.step
}

// start takes the solution on a coarser and wider grid.
func (s *system) start(ctx context.Context, from *grid) error {
	_, err := s.rows(ctx, func(row, y, z int) float64 {
		for x := range s.n[0] {
			p := s.low.Add(geom.Vec{X: float64(x), Y: float64(y), Z: float64(z)}.Scale(s.step))
			v := from.value(p)
			if s.border(x, y, z) {
				v = math.Min(v, outside)
			}
			s.v[row+x] = float32(v)
		}
		return 0
	})
	return err
}

func (s *system) border(x, y, z int) bool {
	return x == 0 || y == 0 || z == 0 || x == s.n[0]-1 || y == s.n[1]-1 || z == s.n[2]-1
}

// rows does something for every row of nodes along X and sums up what it gives, in the same order on every machine.
func (s *system) rows(ctx context.Context, do func(row, y, z int) float64) (float64, error) {
	sums := make([]float64, s.n[2])
	err := par.Spans(ctx, s.n[2], 1, func(z, _ int) {
		for y := range s.n[1] {
			sums[z] += do((z*s.n[1]+y)*s.n[0], y, z)
		}
	})
	total := 0.0
	for _, v := range sums {
		total += v
	}
	return total, err
}

// inner is rows without the box's sides, on which the function stays what it is.
func (s *system) inner(ctx context.Context, do func(from, to int) float64) (float64, error) {
	return s.rows(ctx, func(row, y, z int) float64 {
		if y == 0 || z == 0 || y == s.n[1]-1 || z == s.n[2]-1 {
			return 0
		}
		return do(row+1, row+s.n[0]-1)
	})
}

// of is the left side of the equation of a node for a function.
func (s *system) of(v []float32, at, sx, sy int) float32 {
	return (6+s.hold[at])*v[at] - v[at-1] - v[at+1] - v[at-sx] - v[at+sx] - v[at-sy] - v[at+sy]
}

// solve goes so many passes of conjugate gradients, scaled by the diagonal (Hestenes and Stiefel, 1952), towards the solution.
func (s *system) solve(ctx context.Context, passes int) error {
	sx, sy := s.n[0], s.n[0]*s.n[1]
	rest, way, image := make([]float32, len(s.v)), make([]float32, len(s.v)), make([]float32, len(s.v))
	size, err := s.inner(ctx, func(from, to int) (sum float64) {
		for i := from; i < to; i++ {
			rest[i] = s.right[i] - s.of(s.v, i, sx, sy)
			way[i] = rest[i] / (6 + s.hold[i])
			sum += float64(rest[i] * way[i])
		}
		return sum
	})
	first := size
	for range passes {
		if err != nil || !(size > 1e-10*first) {
			return err
		}
		bent, err := s.inner(ctx, func(from, to int) (sum float64) {
			for i := from; i < to; i++ {
				image[i] = s.of(way, i, sx, sy)
				sum += float64(image[i] * way[i])
			}
			return sum
		})
		if err != nil {
			return err
		}
		far := float32(size / bent)
		next, err := s.inner(ctx, func(from, to int) (sum float64) {
			for i := from; i < to; i++ {
				s.v[i] += far * way[i]
				rest[i] -= far * image[i]
				sum += float64(rest[i] * rest[i] / (6 + s.hold[i]))
			}
			return sum
		})
		if err != nil {
			return err
		}
		turn := float32(next / size)
		_, err = s.inner(ctx, func(from, to int) float64 {
			for i := from; i < to; i++ {
				way[i] = rest[i]/(6+s.hold[i]) + turn*way[i]
			}
			return 0
		})
		if err != nil {
			return err
		}
		size = next
	}
	return err
}
