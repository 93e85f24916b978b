package field

import (
	"context"

	"grainstack/slicing/par"
)

// bend is the sum of the second differences of depth along x, y and z at a node within the grid: twice the skin's mean
// curvature times the step, in units of depth, below zero where the core bulges.
func (g *Grid) bend(n int) float32 {
	d, row, plane := g.depth, g.nx, g.nx*g.ny
	return d[n-1] + d[n+1] + d[n-row] + d[n+row] + d[n-plane] + d[n+plane] - 6*d[n]
}

// Sharpened is the grid with depths lowered by share times their second differences, which makes up for a reading that lies
// on straight lines between nodes where depth bends. Interpolated linearly along three axes, or over tetrahedra, a depth is
// off by a twelfth of the second differences on average, too shallow where the core bulges: a level set drawn through flat
// pieces then holds as much as the true one. It takes one pass over the nodes.
func (g *Grid) Sharpened(ctx context.Context, share float64) (*Grid, error) {
	out := *g
	out.depth = make([]float32, len(g.depth))
	by := float32(share)
	err := par.Spans(ctx, g.nz, 2, func(k0, k1 int) {
		for k := k0; k < k1; k++ {
			for j := range g.ny {
				from := (k*g.ny + j) * g.nx
				copy(out.depth[from:from+g.nx], g.depth[from:from+g.nx])
				if k == 0 || j == 0 || k == g.nz-1 || j == g.ny-1 {
					continue
				}
				for n := from + 1; n < from+g.nx-1; n++ {
					out.depth[n] -= by * g.bend(n)
				}
			}
		}
	})
	return &out, err
}
