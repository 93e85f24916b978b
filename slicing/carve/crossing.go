package carve

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// stripRows is how many rows of columns one goroutine takes at a time.
	stripRows = 16
	// chunk is how many triangles one goroutine sorts into strips at a time.
	chunk = 1 << 15
)

// bins are the triangles that cross each strip of rows, one strip after another.
type bins struct {
	start []int
	tris  []int32
}

// of are those of strip s.
func (b *bins) of(s int) []int32 { return b.tris[b.start[s]:b.start[s+1]] }

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

// A caster finds the crossings of the facets with the columns of one strip, rows j0 up to j1.
type caster struct {
	*lattice
	j0, j1 int
	out    []crossing
}

// corner is a point as the columns see it: in their steps, and its height.
func (c *caster) corner(p *mesh.Point) geom.Vec {
	return geom.Vec{X: (float64(p[0]) - c.x0) / c.step, Y: (float64(p[1]) - c.y0) / c.step, Z: float64(p[2])}
}

// facet finds the columns that pass through a facet.
func (c *caster) facet(p, q, r *mesh.Point) {
	f := geom.Facet{c.corner(p), c.corner(q), c.corner(r)}
	first, end := f.Rows()
	for j := max(first, c.j0); j < min(end, c.j1); j++ {
		s := f.Row(j, c.nx)
		enter := int32(-1)
		if s.Enters {
			enter = 1
		}
		cell := int32((j - c.j0) * c.nx)
		for i := s.First; i < s.End; i++ {
			c.out = append(c.out, crossing{cell + int32(i), enter, float32(s.Z(i))})
		}
	}
}
