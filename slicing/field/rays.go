package field

import "grainstack/slicing/geom"

// An axis names the direction of a bundle of rays.
type axis uint8

const (
	alongX axis = iota
	alongY
	alongZ
)

// rays counts crossings of facets with the rays through the nodes of a few planes. A ray is told by its column and row
// among the others; along it lies its own coordinate.
type rays struct {
	axis                 axis
	k0, k1               int // planes of nodes that belong to this bundle
	cols, rows, len      int
	colStep, rowStep, on int // in count, from one node to the next across and along
	flip                 bool
	count                []int16
}

// rays is the bundle along an axis through planes k0 up to k1.
func (b *builder) rays(a axis, k0, k1 int) rays {
	g := b.grid
	r := rays{axis: a, k0: k0, k1: k1, count: b.count}
	x, y, z := 1, g.nx, g.nx*g.ny
	switch a {
	case alongX:
		r.cols, r.rows, r.len, r.colStep, r.rowStep, r.on = g.ny, k1, g.nx, y, z, x
	case alongY:
		r.cols, r.rows, r.len, r.colStep, r.rowStep, r.on = g.nx, k1, g.ny, x, z, y
		r.flip = true
	default:
		r.cols, r.rows, r.len, r.colStep, r.rowStep, r.on = g.nx, g.ny, g.nz, x, y, z
	}
	return r
}

// see is a corner as the bundle has it: its column, its row and how far along the rays it lies.
func (r *rays) see(v vec) geom.Vec {
	switch r.axis {
	case alongX:
		return geom.Vec{X: v.y, Y: v.z, Z: v.x}
	case alongY:
		return geom.Vec{X: v.x, Y: v.z, Z: v.y}
	}
	return geom.Vec{X: v.x, Y: v.y, Z: v.z}
}

// cross adds +1 before a facet through which rays enter and -1 before one through which they leave, at the first node at or
// past it.
func (r *rays) cross(f *facet) {
	t := geom.Facet{r.see(f.a), r.see(f.b), r.see(f.c)}
	first, end := t.Rows()
	if first = max(first, 0); r.axis != alongZ {
		first = max(first, r.k0)
	}
	for row := first; row < min(end, r.rows); row++ {
		s := t.Row(row, r.cols)
		add := int16(-1)
		if s.Enters != r.flip {
			add = 1
		}
		for i := s.First; i < s.End; i++ {
			at := max(geom.Ceil(s.Z(i)), 0)
			if at >= r.len || r.axis == alongZ && (at < r.k0 || at >= r.k1) {
				continue
			}
			r.count[row*r.rowStep+i*r.colStep+at*r.on] += add
		}
	}
}
