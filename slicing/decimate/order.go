package decimate

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// cells is how finely each axis is cut to put triangles in spatial order, as a power of two.
const cells = 6

// order lists the triangles along a Z-order curve (G. M. Morton, 1966) over cubes; the cubes lie elsewhere in each round, so
// that no cut between parts is where one was before.
func (t *thinning) order(ctx context.Context, round int) ([]int32, error) {
	box := t.box()
	size := box.Size()
	side := max(size.X, size.Y, size.Z) * (1 + shiftOf(round))
	scale := float32(0)
	if side > 0 {
		scale = float32((1 << cells) / side)
	}
	shift := float32(side - max(size.X, size.Y, size.Z))
	low := [3]float32{float32(box.Min.X) - shift, float32(box.Min.Y) - 0.7*shift, float32(box.Min.Z) - 0.4*shift}
	keys := make([]int32, len(t.triangles))
	err := par.Spans(ctx, len(keys), lookEvery, func(from, to int) {
		for i := from; i < to; i++ {
			p := t.points[t.triangles[i][0]]
			key := int32(0)
			for k := range p {
				key |= spreadCell(int32((p[k]-low[k])*scale)) << k
			}
			keys[i] = key
		}
	})
	if err != nil {
		return nil, err
	}
	start := make([]int32, 1<<(3*cells)+1)
	for _, k := range keys {
		start[k+1]++
	}
	for k := 1; k < len(start); k++ {
		start[k] += start[k-1]
	}
	order := make([]int32, len(keys))
	for i, k := range keys {
		order[start[k]] = int32(i)
		start[k]++
	}
	return order, nil
}

// shiftOf is by which share of the piece's size the cubes' frame is shifted.
func shiftOf(round int) float64 {
	const golden = 0.618
	f := golden * float64(round)
	return f - float64(int(f))
}

// spreadCell puts two empty bits between the bits of a cell's number, kept within the grid.
func spreadCell(c int32) int32 {
	c = min(max(c, 0), 1<<cells-1)
	c = (c | c<<8) & 0x300f
	c = (c | c<<4) & 0x30c3
	return (c | c<<2) & 0x9249
}

// box is the box of the points as read, which the thinned surface keeps to within tolerance.
func (t *thinning) box() geom.Box { return (&mesh.Mesh{Points: t.origin}).Box() }
