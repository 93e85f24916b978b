package field

import "grainstack/slicing/geom"

// A raster is a grid of heights over a plane; where they are above zero is inside.
type raster struct {
	x0, y0, spacing float64 // mm
	nx, ny          int
	v               []float32
}

// Outlines are the lines round where figures on a grid are above zero: nx·ny of them from origin on, x fastest, spacing mm
// apart, none above zero on the grid's border. Outlines run counter-clockwise, holes clockwise; between two figures a line
// lies in proportion.
func Outlines(origin geom.Vec2, spacing float64, nx, ny int, v []float32) geom.Region {
	if nx < 2 || ny < 2 || len(v) != nx*ny {
		return nil
	}
	r := raster{x0: origin.X, y0: origin.Y, spacing: spacing, nx: nx, ny: ny, v: v}
	return r.contours()
}

// contours are the lines at zero by marching squares: outlines counter-clockwise, holes clockwise. Rings close because
// every crossed side of a square has one line that comes and one that goes. Where two corners of a square across from each
// other are inside, its middle decides whether they join. The raster's border must be outside.
func (r *raster) contours() geom.Region {
	n := r.nx * r.ny
	next := make([]int32, 2*n) // from side to side; side i runs from node i along x, side n+i along y; 0 is none
	var starts []int32
	for j := range r.ny - 1 {
		lo, hi := r.v[j*r.nx:][:r.nx], r.v[(j+1)*r.nx:][:r.nx]
		left := corner(lo[0], 1) | corner(hi[0], 8)
		for i := range r.nx - 1 {
			kind := left | corner(lo[i+1], 2) | corner(hi[i+1], 4)
			left = kind >> 1 & 1
			left |= kind << 1 & 8
			if kind == 0 || kind == 15 {
				continue
			}
			if kind == 5 || kind == 10 {
				if lo[i]+lo[i+1]+hi[i]+hi[i+1] > 0 {
					kind += 16
				}
			}
			node := int32(j*r.nx + i)
			sides := [4]int32{node, int32(n) + node + 1, node + int32(r.nx), int32(n) + node}
			for _, l := range squares[kind] {
				next[sides[l.from]] = sides[l.to] + 1
				starts = append(starts, sides[l.from])
			}
		}
	}
	return r.chain(next, starts)
}

func corner(v float32, bit uint8) uint8 {
	if v > 0 {
		return bit
	}
	return 0
}

// A line goes from one side of a square to another, inside on its left. Sides: 0 below, 1 right, 2 above, 3 left.
type line struct{ from, to uint8 }

// squares are the lines of a square by which corners are inside: 1 below left, 2 below right, 4 above right, 8 above left;
// 16 more where opposite corners join in the middle.
var squares = [27][]line{
	1: {{0, 3}}, 2: {{1, 0}}, 3: {{1, 3}}, 4: {{2, 1}}, 5: {{0, 3}, {2, 1}}, 6: {{2, 0}}, 7: {{2, 3}},
	8: {{3, 2}}, 9: {{0, 2}}, 10: {{1, 0}, {3, 2}}, 11: {{1, 2}}, 12: {{3, 1}}, 13: {{0, 1}}, 14: {{3, 0}},
	21: {{0, 1}, {2, 3}}, 26: {{1, 2}, {3, 0}},
}

// chain follows the lines from side to side until each ring is back at its start.
func (r *raster) chain(next, starts []int32) geom.Region {
	var out geom.Region
	for _, s := range starts {
		if next[s] == 0 {
			continue
		}
		var ring geom.Ring
		for at := s; next[at] != 0; {
			p := r.crossing(at)
			if n := len(ring); n == 0 || ring[n-1] != p {
				ring = append(ring, p)
			}
			at, next[at] = next[at]-1, 0
		}
		if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
			ring = ring[:len(ring)-1]
		}
		if len(ring) >= 3 {
			out = append(out, ring)
		}
	}
	return out
}

// crossing is where the height is zero on a side.
func (r *raster) crossing(side int32) geom.Vec2 {
	n := int32(r.nx * r.ny)
	node, on := side, int32(1)
	if side >= n {
		node, on = side-n, int32(r.nx)
	}
	a, b := float64(r.v[node]), float64(r.v[node+on])
	t := a / (a - b)
	p := geom.Vec2{X: float64(node % int32(r.nx)), Y: float64(node / int32(r.nx))}
	if on == 1 {
		p.X += t
	} else {
		p.Y += t
	}
	return geom.Vec2{X: r.x0 + p.X*r.spacing, Y: r.y0 + p.Y*r.spacing}
}

// Above is the region where a grid of nx figures a row, x fastest, is above a level: outlines counter-clockwise, holes
// clockwise, in grid steps from the first figure. What lies on the grid's border counts as outside.
func Above(v []float32, nx int, level float32) geom.Region {
	r := raster{spacing: 1, nx: nx, ny: len(v) / nx, v: make([]float32, len(v))}
	for i, f := range v {
		x, y := i%nx, i/nx
		if r.v[i] = f - level; x == 0 || y == 0 || x == nx-1 || y == r.ny-1 {
			r.v[i] = min(r.v[i], -1)
		}
	}
	return r.contours()
}
