package field

import (
	"context"
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// margin is how many nodes lie outside the piece's box on each side: enough for the openness taps.
	margin = 8
	// outside is how many steps outside the surface depths are as exact as inside; farther out they are those to a seed
	// near the nearest point, which is enough for shading.
	outside = 2.5
	// maxNodes bounds memory at about half a gigabyte while building: 32 bytes a node.
	maxNodes = 1 << 24
	// minCells is the coarsest grid that still says something about a wall.
	minCells = 4
)

// Build measures the depth at the nodes of a grid with cells steps along the piece's longest side and a margin of eight
// steps all round. The mesh should be closed and face outward; where it is not, the sign is the best guess of rays along
// three axes. Inside and for two steps outside, a depth is that to the nearest facet; a few nodes about as far from two
// parts of the surface take the farther one and are too deep, by 0.16 steps at the worst that was seen and by less than
// 0.001 on average. Farther out depths are too large by up to 0.3 steps. The result does not depend on the number
// of cores.
//
// progress may be nil; otherwise it is called, from one goroutine at a time and at most 20 times a second, with the share
// that is done. A mesh without triangles, with a point that is not a number, or with no extent is refused, and so is a
// grid of more than 16.7 million nodes. Called off by ctx, it returns within 50 ms on two free cores.
func Build(ctx context.Context, m *mesh.Mesh, cells int, progress func(float64)) (*Grid, error) {
	b, err := newBuilder(ctx, m, cells)
	if err != nil {
		return nil, err
	}
	steps := []struct {
		share float64
		do    func(context.Context, *meter) error
	}{
		{0.08, b.bucket},
		{0.30, b.scan},
		{0.06, b.sign},
		{0.06, b.gatherSeeds},
		{0.25, b.spread},
		{0.25, b.refine},
	}
	meter := newMeter(progress)
	for _, s := range steps {
		meter.stage(s.share)
		if err := s.do(ctx, meter); err != nil {
			return nil, err
		}
	}
	meter.finish()
	return b.grid, nil
}

// A builder holds what is needed while a grid is made.
type builder struct {
	grid      *Grid
	points    []mesh.Point // grid steps
	triangles []mesh.Triangle
	buckets   buckets
	ring      ring
	best      []float32 // while scanning: squared distance in steps² to facet near; shares memory with the grid's depth
	near      []int32   // while scanning the facet, then the seed; -1 for none
	count     []int16   // while scanning the crossings just before a node, then in how many shells it lies
	overlap   bool      // some node lies in more than one shell
	seeds     []seed
}

// newBuilder lays out the grid and carries the points to grid steps.
func newBuilder(ctx context.Context, m *mesh.Mesh, cells int) (*builder, error) {
	if m == nil || len(m.Triangles) == 0 {
		return nil, errors.New("field: the mesh has no triangles")
	}
	if cells < minCells {
		return nil, fmt.Errorf("field: %d cells along the longest side, wants at least %d", cells, minCells)
	}
	box, err := usedBox(ctx, m)
	if err != nil {
		return nil, err
	}
	size := box.Size()
	longest := max(size.X, size.Y, size.Z)
	if !(longest > 0) {
		return nil, errors.New("field: the mesh has no extent")
	}
	g := &Grid{step: longest / float64(cells), solid: box}
	side := func(s float64) float64 { return math.Ceil(s/g.step-1e-9) + 2*margin + 1 }
	x, y, z := side(size.X), side(size.Y), side(size.Z)
	if x*y*z > maxNodes {
		return nil, fmt.Errorf("field: %.0f nodes, at most %d are kept", x*y*z, maxNodes)
	}
	g.nx, g.ny, g.nz = int(x), int(y), int(z)
	half := geom.Vec{X: x - 1, Y: y - 1, Z: z - 1}.Scale(g.step / 2)
	g.origin = box.Center().Sub(half)
	n := g.nx * g.ny * g.nz
	g.depth = make([]float32, n)
	b := &builder{grid: g, triangles: m.Triangles, best: g.depth, near: make([]int32, n), count: make([]int16, n)}
	b.points = make([]mesh.Point, len(m.Points))
	return b, par.Spans(ctx, len(m.Points), chunk, func(from, to int) {
		for i, p := range m.Points[from:to] {
			q := p.Vec().Sub(g.origin).Scale(1 / g.step)
			b.points[from+i] = mesh.PointOf(q)
		}
	})
}

// usedBox is the box of all corners that triangles use; it refuses indices out of range and points that are no numbers.
func usedBox(ctx context.Context, m *mesh.Mesh) (geom.Box, error) {
	type part struct {
		lo, hi mesh.Point
		err    error
	}
	parts := make([]part, (len(m.Triangles)+chunk-1)/chunk)
	err := par.Spans(ctx, len(m.Triangles), chunk, func(from, to int) {
		p := &parts[from/chunk]
		p.lo, p.hi, p.err = boxOf(m, from, to)
	})
	if err != nil {
		return geom.Box{}, err
	}
	lo, hi := parts[0].lo, parts[0].hi
	for _, p := range parts {
		if p.err != nil {
			return geom.Box{}, p.err
		}
		for a := range 3 {
			lo[a], hi[a] = min(lo[a], p.lo[a]), max(hi[a], p.hi[a])
		}
	}
	return geom.Box{Min: lo.Vec(), Max: hi.Vec()}, nil
}

// boxOf is the box of some of the triangles.
func boxOf(m *mesh.Mesh, from, to int) (lo, hi mesh.Point, err error) {
	lo = mesh.Point{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}
	hi = mesh.Point{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
	for i, t := range m.Triangles[from:to] {
		for _, v := range t {
			if v < 0 || int(v) >= len(m.Points) {
				return lo, hi, fmt.Errorf("field: triangle %d names point %d of %d", from+i, v, len(m.Points))
			}
			for a, c := range m.Points[v] {
				if !(c >= -math.MaxFloat32 && c <= math.MaxFloat32) {
					return lo, hi, fmt.Errorf("field: point %d is not a number", v)
				}
				lo[a], hi[a] = min(lo[a], c), max(hi[a], c)
			}
		}
	}
	return lo, hi, nil
}

// facet is triangle t in grid steps.
func (b *builder) facet(t int32) facet {
	c := b.triangles[t]
	return facet{b.corner(c[0]), b.corner(c[1]), b.corner(c[2])}
}

func (b *builder) corner(i int32) vec {
	p := &b.points[i]
	return vec{float64(p[0]), float64(p[1]), float64(p[2])}
}

// planes calls do for spans of node planes of one z each and reports each span as progress.
func (b *builder) planes(ctx context.Context, m *meter, size int, do func(k0, k1 int)) error {
	return par.Spans(ctx, b.grid.nz, size, func(k0, k1 int) {
		do(k0, k1)
		m.add(float64(k1-k0) / float64(b.grid.nz))
	})
}
