package field

import "math"

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

// seen is a corner with its coordinates as the bundle has them.
type seen struct{ col, row, on float64 }

func (r *rays) see(v vec) seen {
	switch r.axis {
	case alongX:
		return seen{v.y, v.z, v.x}
	case alongY:
		return seen{v.x, v.z, v.y}
	}
	return seen{v.x, v.y, v.z}
}

// cross adds +1 before a facet through which rays enter and -1 before one through which they leave, at the first node at or
// past it. A corner on a row counts as before it and a node on the end of a span as past it, and two facets that share a
// side take its crossing from the same sum in the same order; so a ray through an edge or a corner is counted neither twice
// nor never.
func (r *rays) cross(f *facet) {
	a, b, c := r.see(f.a), r.see(f.b), r.see(f.c)
	lo, hi := min(a.row, b.row, c.row), max(a.row, b.row, c.row)
	first, end := max(int(math.Ceil(lo)), 0), min(int(math.Ceil(hi)), r.rows)
	if r.axis != alongZ {
		first = max(first, r.k0)
	}
	for row := first; row < end; row++ {
		var up, down seen
		y := float64(row)
		for _, e := range [3][2]*seen{{&a, &b}, {&b, &c}, {&c, &a}} {
			if before := e[0].row <= y; before == (e[1].row <= y) {
				continue
			} else if before {
				up = meet(e[0], e[1], y)
			} else {
				down = meet(e[1], e[0], y)
			}
		}
		r.span(row, up, down)
	}
}

// meet is where the side from lo up to hi meets a row.
func meet(lo, hi *seen, row float64) seen {
	t := (row - lo.row) / (hi.row - lo.row)
	return seen{lo.col + t*(hi.col-lo.col), row, lo.on + t*(hi.on-lo.on)}
}

// span counts one row of a facet. Where the rising side lies right of the falling one the facet faces along the rays, which
// leave through it.
func (r *rays) span(row int, up, down seen) {
	add := int16(-1)
	left, right := down, up
	if up.col < down.col {
		add, left, right = 1, up, down
	}
	if r.flip {
		add = -add
	}
	i, end := max(int(math.Ceil(left.col)), 0), min(int(math.Ceil(right.col)), r.cols)
	if i >= end {
		return
	}
	slope := (right.on - left.on) / (right.col - left.col)
	for ; i < end; i++ {
		at := int(math.Ceil(left.on + slope*(float64(i)-left.col)))
		if at = max(at, 0); at >= r.len || r.axis == alongZ && (at < r.k0 || at >= r.k1) {
			continue
		}
		r.count[row*r.rowStep+i*r.colStep+at*r.on] += add
	}
}
