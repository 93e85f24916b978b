package field

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A Rim is the ring of wall at a joint where it is narrowest.
type Rim struct {
	Width float64   // mm, in the plane of the joint
	Core  geom.Vec2 // the point of the core's outline
	Edge  geom.Vec2 // the point of the layer's outline
}

// NarrowestRim is the least distance in the plane between the core's outline and the layer's, with its place. Where they
// cross the width is 0. ok is false where either has no points.
func NarrowestRim(core, outline geom.Region) (rim Rim, ok bool) {
	cores, edges := sidesOf(core), sidesOf(outline)
	if len(cores) == 0 || len(edges) == 0 {
		return Rim{}, false
	}
	rim.Width = math.Inf(1)
	boxes := sortSides(edges)
	for _, s := range cores {
		boxes.crossed(s, &rim)
		boxes.from(s.a, &rim)
	}
	rim.Core, rim.Edge = rim.Edge, rim.Core
	boxes = sortSides(cores)
	for _, s := range edges {
		boxes.from(s.a, &rim)
	}
	rim.Core, rim.Edge = rim.Edge, rim.Core
	return rim, true
}

// A side runs from one point of a ring to the next.
type side struct{ a, b geom.Vec2 }

func sidesOf(g geom.Region) []side {
	var out []side
	for _, r := range g {
		for i, p := range r {
			out = append(out, side{p, r[(i+1)%len(r)]})
		}
	}
	return out
}

// crosses is where two sides cross, touching ends included.
func (s side) crosses(o side) (geom.Vec2, bool) {
	d, e := s.b.Sub(s.a), o.b.Sub(o.a)
	n := d.Cross(e)
	if n == 0 {
		return geom.Vec2{}, false
	}
	w := o.a.Sub(s.a)
	t, u := w.Cross(e)/n, w.Cross(d)/n
	return s.a.Add(d.Scale(t)), t >= 0 && t <= 1 && u >= 0 && u <= 1
}

// boxes are sides sorted into squares, so that only those close by need be tried.
type boxes struct {
	sides  []side
	lo     geom.Vec2
	size   float64 // of a square, mm
	nx, ny int
	start  []int32
	items  []int32
}

// mostBoxes is how many squares lie along the longer way of a region at the most.
const mostBoxes = 96

func sortSides(sides []side) *boxes {
	area := geom.EmptyBox2()
	for _, s := range sides {
		area = area.Add(s.a)
	}
	n := min(max(math.Sqrt(float64(len(sides))), 4), mostBoxes)
	size := area.Size()
	b := &boxes{sides: sides, lo: area.Min, size: max(max(size.X, size.Y)/n, 1e-9)}
	b.nx, b.ny = int(size.X/b.size)+1, int(size.Y/b.size)+1
	b.start = make([]int32, b.nx*b.ny+1)
	b.each(func(box, _ int) { b.start[box+1]++ })
	for i := range b.nx * b.ny {
		b.start[i+1] += b.start[i]
	}
	b.items = make([]int32, b.start[b.nx*b.ny])
	next := append([]int32(nil), b.start...)
	b.each(func(box, side int) {
		b.items[next[box]] = int32(side)
		next[box]++
	})
	return b
}

// each calls do for every side and every square that the box round it touches.
func (b *boxes) each(do func(box, side int)) {
	for n, s := range b.sides {
		i0, j0 := b.at(geom.Vec2{X: min(s.a.X, s.b.X), Y: min(s.a.Y, s.b.Y)})
		i1, j1 := b.at(geom.Vec2{X: max(s.a.X, s.b.X), Y: max(s.a.Y, s.b.Y)})
		for j := j0; j <= j1; j++ {
			for i := i0; i <= i1; i++ {
				do(j*b.nx+i, n)
			}
		}
	}
}

// at is the square that p lies in, or the nearest one.
func (b *boxes) at(p geom.Vec2) (i, j int) {
	return int(clamp((p.X-b.lo.X)/b.size, 0, float64(b.nx-1))), int(clamp((p.Y-b.lo.Y)/b.size, 0, float64(b.ny-1)))
}

// crossed sets the rim to 0 where side s crosses one of the sides.
func (b *boxes) crossed(s side, rim *Rim) {
	if rim.Width == 0 {
		return
	}
	i0, j0 := b.at(geom.Vec2{X: min(s.a.X, s.b.X), Y: min(s.a.Y, s.b.Y)})
	i1, j1 := b.at(geom.Vec2{X: max(s.a.X, s.b.X), Y: max(s.a.Y, s.b.Y)})
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			for _, n := range b.items[b.start[j*b.nx+i]:b.start[j*b.nx+i+1]] {
				if p, ok := s.crosses(b.sides[n]); ok {
					*rim = Rim{0, p, p}
					return
				}
			}
		}
	}
}

// from makes the rim narrower where p lies nearer to a side: squares are tried in rings round that of p for as long as they
// can hold anything nearer. The far point becomes Core, p becomes Edge.
func (b *boxes) from(p geom.Vec2, rim *Rim) {
	ci, cj := b.at(p)
	for r := 0; r < b.nx+b.ny && float64(r-1)*b.size < rim.Width; r++ {
		for j := max(cj-r, 0); j <= min(cj+r, b.ny-1); j++ {
			step := 1
			if j != cj-r && j != cj+r {
				step = max(2*r, 1)
			}
			for i := ci - r; i <= ci+r; i += step {
				if i >= 0 && i < b.nx {
					b.try(j*b.nx+i, p, rim)
				}
			}
		}
	}
}

// try measures p against the sides of one square.
func (b *boxes) try(box int, p geom.Vec2, rim *Rim) {
	for _, n := range b.items[b.start[box]:b.start[box+1]] {
		q := plane.Nearest(p, b.sides[n].a, b.sides[n].b)
		if d := q.Sub(p); d.Dot(d) < rim.Width*rim.Width {
			*rim = Rim{math.Sqrt(d.Dot(d)), q, p}
		}
	}
}
