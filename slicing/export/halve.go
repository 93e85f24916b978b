package export

import "math"

const (
	// within is how far a column's end may lie off a panel's solid, mm.
	within = 0.02
	// ofThickness is the share of the wood's thickness that neither end may use up of it, so that they never meet.
	ofThickness = 0.25
	// coarsest is the largest leg of a face's triangles in steps, a power of two.
	coarsest = 128
)

// A spot is a node of the lattice, or beyond it where that is filled up to whole squares.
type spot struct{ x, y int }

func middle(a, b spot) spot { return spot{(a.x + b.x) / 2, (a.y + b.y) / 2} }

// A half is a right triangle of the lattice, a and b at the ends of its longest side, counter-clockwise.
type half struct{ a, b, c spot }

// halves are the two triangles into which the height on its longest side divides it.
func (t half) halves() [2]half {
	m := middle(t.a, t.b)
	return [2]half{{t.c, t.a, m}, {t.b, t.c, m}}
}

// divisible reports whether the middle of the longest side is a node.
func (t half) divisible() bool { return (t.a.x+t.b.x)%2 == 0 && (t.a.y+t.b.y)%2 == 0 }

// row is from where to where the triangle reaches on a row of the lattice.
func (t half) row(y int) (from, to int) {
	from, to = math.MaxInt, math.MinInt
	for _, e := range [3][2]spot{{t.a, t.b}, {t.b, t.c}, {t.c, t.a}} {
		p, q := e[0], e[1]
		switch {
		case p.y == q.y && p.y == y:
			from, to = min(from, p.x, q.x), max(to, p.x, q.x)
		case p.y != q.y && min(p.y, q.y) <= y && y <= max(p.y, q.y):
			x := p.x + (q.x-p.x)*(y-p.y)/(q.y-p.y)
			from, to = min(from, x), max(to, x)
		}
	}
	return from, to
}

// squareHalves are both triangles of a square of the lattice. Neighbours are cut along opposite diagonals, so that those of
// the four quarters of a square meet in its middle.
func squareHalves(low spot, size int) [2]half {
	a, b := low, spot{low.x + size, low.y}
	c, d := spot{low.x + size, low.y + size}, spot{low.x, low.y + size}
	if (low.x/size+low.y/size)%2 == 0 {
		return [2]half{{c, a, b}, {a, c, d}}
	}
	return [2]half{{b, d, a}, {d, b, c}}
}

// A facing is one face of a relief on the way to triangles: right triangles are halved until no column lies off them by more
// than within, and no side of one has a corner of another within it (W. Evans, D. Kirkpatrick, G. Townsend,
// Right-Triangulated Irregular Networks, Algorithmica 30, 2001).
type facing struct {
	*relief
	side int
	w, h int    // nodes of the lattice, filled up to whole squares
	keep []bool // the nodes that are corners
}

// carved adds the triangles of a face where it is not flush with the panel's.
func (r *relief) carved(side int) {
	up := func(n int) int { return (n-1+coarsest-1)/coarsest*coarsest + 1 }
	f := facing{relief: r, side: side, w: up(r.nx), h: up(r.ny)}
	f.keep = make([]bool, f.w*f.h)
	for y := range r.ny {
		for x := range r.nx {
			f.keep[y*f.w+x] = f.rim(x, y)
		}
	}
	for s := 1; s < coarsest; s *= 2 {
		f.sides(s)
		f.diagonals(s)
	}
	for y := 0; y < f.h-1; y += coarsest {
		for x := 0; x < f.w-1; x += coarsest {
			for _, t := range squareHalves(spot{x, y}, coarsest) {
				f.fill(t)
			}
		}
	}
}

// takes reports whether a cell is one of the face's.
func (f *facing) takes(i, j int) bool { return f.cell(i, j) && !f.flat(i, j, f.side) }

// rim reports whether a column stands at the border of the cells.
func (f *facing) rim(x, y int) bool {
	a, b, c, d := f.takes(x-1, y-1), f.takes(x, y-1), f.takes(x-1, y), f.takes(x, y)
	return (a || b || c || d) && !(a && b && c && d)
}

func (f *facing) kept(p spot) bool { return f.keep[p.y*f.w+p.x] }

// sides decides about the middles of the sides of all squares of 2s steps.
func (f *facing) sides(s int) {
	for y := 0; y < f.h; y += s {
		for x := (y/s + 1) % 2 * s; x < f.w; x += 2 * s {
			dx, dy := s, 0
			if y/s%2 == 1 {
				dx, dy = 0, s
			}
			a, b := spot{x - dx, y - dy}, spot{x + dx, y + dy}
			c, d := spot{x - dy, y + dx}, spot{x + dy, y - dx}
			f.decide(spot{x, y}, [2]half{{a, b, c}, {b, a, d}})
		}
	}
}

// diagonals decides about the middles of all squares of 2s steps.
func (f *facing) diagonals(s int) {
	for y := s; y < f.h; y += 2 * s {
		for x := s; x < f.w; x += 2 * s {
			f.decide(spot{x, y}, squareHalves(spot{x - s, y - s}, 2*s))
		}
	}
}

// decide keeps the middle of the common longest side of two triangles where either has to be halved.
func (f *facing) decide(m spot, both [2]half) {
	if f.kept(m) {
		return
	}
	for _, t := range both {
		if t.c.x < 0 || t.c.y < 0 || t.c.x >= f.w || t.c.y >= f.h {
			continue
		}
		for _, u := range t.halves() {
			if u.divisible() && f.kept(middle(u.a, u.b)) {
				f.keep[m.y*f.w+m.x] = true
				return
			}
		}
		if f.inside(t) && !f.fits(t) {
			f.keep[m.y*f.w+m.x] = true
			return
		}
	}
}

// inside reports whether a triangle that no border of the cells crosses lies within them.
func (f *facing) inside(t half) bool {
	return f.takes((t.a.x+t.b.x+t.c.x)/3, (t.a.y+t.b.y+t.c.y)/3)
}

// fits reports whether all columns under a triangle end near enough to it.
func (f *facing) fits(t half) bool {
	z := f.heights(f.side)
	var x, y, h [3]float64
	for k, p := range [3]spot{t.c, t.a, t.b} {
		n := p.y*f.nx + p.x
		at := f.fitted(n)
		x[k], y[k], h[k] = at.X/f.sx, at.Y/f.sy, float64(z[n])
	}
	ux, uy, uh := x[1]-x[0], y[1]-y[0], h[1]-h[0]
	vx, vy, vh := x[2]-x[0], y[2]-y[0], h[2]-h[0]
	area := ux*vy - uy*vx
	gx, gy := (uh*vy-vh*uy)/area, (vh*ux-uh*vx)/area
	for j := min(t.a.y, t.b.y, t.c.y); j <= max(t.a.y, t.b.y, t.c.y); j++ {
		from, to := t.row(j)
		at := h[0] + gy*(float64(j)-y[0])
		for i := from; i <= to; i++ {
			n := j*f.nx + i
			off := math.Abs(at + gx*(float64(i)-x[0]) - float64(z[n]))
			if off > 1e-6 && off > min(within, ofThickness*float64(f.top[n]-f.bottom[n])) && !t.corner(spot{i, j}) {
				return false
			}
		}
	}
	return true
}

func (t half) corner(p spot) bool { return p == t.a || p == t.b || p == t.c }

// fill adds what is within the cells of a triangle, halved as decided.
func (f *facing) fill(t half) {
	if t.divisible() && f.kept(middle(t.a, t.b)) {
		for _, u := range t.halves() {
			f.fill(u)
		}
		return
	}
	if !f.inside(t) {
		return
	}
	f.add(f.side, f.point(t.a, f.side), f.point(t.b, f.side), f.point(t.c, f.side))
}
