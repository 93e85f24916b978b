package carve

import (
	"context"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// stripRows is how many rows of columns one goroutine takes at a time.
	stripRows = 16
	// chunk is how many triangles one goroutine sorts into strips at a time.
	chunk = 1 << 15
)

// bins are the triangles that cross each strip of rows: those of strip s are tris[start[s]:start[s+1]].
type bins struct {
	start []int
	tris  []int32
}

// bin sorts the triangles into strips, in their own order within each. Triangles whose shadow holds no column are left out.
func (l *lattice) bin(ctx context.Context, m *mesh.Mesh) (bins, error) {
	strips := (l.ny + stripRows - 1) / stripRows
	chunks := (len(m.Triangles) + chunk - 1) / chunk
	counts := make([]int, chunks*strips) // then where the next of a chunk goes
	err := par.Spans(ctx, len(m.Triangles), chunk, func(from, to int) {
		count := counts[from/chunk*strips:][:strips]
		for _, t := range m.Triangles[from:to] {
			s, end := l.strips(m, t)
			for ; s < end; s++ {
				count[s]++
			}
		}
	})
	if err != nil {
		return bins{}, err
	}
	b := bins{start: make([]int, strips+1)}
	n := 0
	for s := range strips {
		b.start[s] = n
		for c := range chunks {
			counts[c*strips+s], n = n, n+counts[c*strips+s]
		}
	}
	b.start[strips] = n
	b.tris = make([]int32, n)
	err = par.Spans(ctx, len(m.Triangles), chunk, func(from, to int) {
		next := counts[from/chunk*strips:][:strips]
		for i, t := range m.Triangles[from:to] {
			s, end := l.strips(m, t)
			for ; s < end; s++ {
				b.tris[next[s]] = int32(from + i)
				next[s]++
			}
		}
	})
	return b, err
}

// strips are the strips that a triangle's columns lie in.
func (l *lattice) strips(m *mesh.Mesh, t mesh.Triangle) (first, end int) {
	a, b, c := &m.Points[t[0]], &m.Points[t[1]], &m.Points[t[2]]
	col := func(x float32) float64 { return (float64(x) - l.x0) / l.step }
	row := func(y float32) float64 { return (float64(y) - l.y0) / l.step }
	r0, r1 := rowsOf(row(min3(a[1], b[1], c[1])), row(max3(a[1], b[1], c[1])), l.ny)
	if r0 >= r1 {
		return 0, 0
	}
	c0, c1 := rowsOf(col(min3(a[0], b[0], c[0])), col(max3(a[0], b[0], c[0])), l.nx)
	if c0 >= c1 {
		return 0, 0
	}
	return r0 / stripRows, (r1-1)/stripRows + 1
}

func min3(a, b, c float32) float32 {
	if b < a {
		a = b
	}
	if c < a {
		a = c
	}
	return a
}

func max3(a, b, c float32) float32 {
	if b > a {
		a = b
	}
	if c > a {
		a = c
	}
	return a
}

// A crossing is where a column passes through a facet.
type crossing struct {
	cell  int32 // of the strip
	enter int32 // +1 where the column enters wood going up, -1 where it leaves
	z     float32
}

// A corner of a facet as the columns see it: in their steps, and its height.
type corner struct{ col, row, z float64 }

// A caster finds the crossings of the facets with the columns of one strip, rows j0 up to j1.
type caster struct {
	*lattice
	j0, j1 int
	out    []crossing
}

func (c *caster) corner(p *mesh.Point) corner {
	return corner{(float64(p[0]) - c.x0) / c.step, (float64(p[1]) - c.y0) / c.step, float64(p[2])}
}

// facet finds the columns in a facet's shadow row by row. A corner on a row counts as before it and a column on the end of
// a row's stretch as past it, and two facets that share a side take its crossing from the same sums in the same order; so a
// column through an edge or a corner is counted neither twice nor never.
func (c *caster) facet(p, q, r *mesh.Point) {
	a, b, d := c.corner(p), c.corner(q), c.corner(r)
	first, end := max(ceil(min(a.row, b.row, d.row)), c.j0), min(ceil(max(a.row, b.row, d.row)), c.j1)
	for j := first; j < end; j++ {
		var up, down corner
		y := float64(j)
		side(&a, &b, y, &up, &down)
		side(&b, &d, y, &up, &down)
		side(&d, &a, y, &up, &down)
		c.row(j, up, down)
	}
}

// side finds where a side of a facet meets a row: up where it rises, down where it falls.
func side(a, b *corner, y float64, up, down *corner) {
	if before := a.row <= y; before == (b.row <= y) {
		return
	} else if before {
		*up = meet(a, b, y)
	} else {
		*down = meet(b, a, y)
	}
}

// meet is where the side from lo up to hi meets a row.
func meet(lo, hi *corner, row float64) corner {
	t := (row - lo.row) / (hi.row - lo.row)
	return corner{lo.col + t*(hi.col-lo.col), row, lo.z + t*(hi.z-lo.z)}
}

// row adds one row of a facet. Where the rising side lies right of the falling one the facet faces up, and columns leave
// the wood through it.
func (c *caster) row(j int, up, down corner) {
	enter, left, right := int32(-1), down, up
	if up.col < down.col {
		enter, left, right = 1, up, down
	}
	i, end := max(ceil(left.col), 0), min(ceil(right.col), c.nx)
	if i >= end {
		return
	}
	slope := (right.z - left.z) / (right.col - left.col)
	cell := int32((j-c.j0)*c.nx + i)
	for ; i < end; i++ {
		c.out = append(c.out, crossing{cell, enter, float32(left.z + slope*(float64(i)-left.col))})
		cell++
	}
}
