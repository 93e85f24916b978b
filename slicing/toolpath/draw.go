package toolpath

import (
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
)

// A canvas is a height map that tips are drawn into: each place keeps the highest.
type canvas struct {
	*carve.HeightMap
	stop func() bool
}

// newCanvas is an empty map.
func newCanvas(m carve.HeightMap, stop func() bool) canvas {
	m.Z = make([]float32, m.W*m.H)
	for i := range m.Z {
		m.Z[i] = none
	}
	return canvas{&m, stop}
}

// columns are those from one place to another along an axis.
func columns(from, to, origin, step float64, n int) (first, last int) {
	return max(int(math.Ceil((from-origin)/step)), 0), min(int(math.Floor((to-origin)/step)), n-1)
}

// each visits the places of a box.
func (c *canvas) each(x0, y0, x1, y1 float64, tip func(x, y float64) float64) {
	i0, i1 := columns(x0, x1, c.Origin.X, c.Step, c.W)
	j0, j1 := columns(y0, y1, c.Origin.Y, c.Step, c.H)
	for j := j0; j <= j1; j++ {
		y := c.Origin.Y + float64(j)*c.Step
		row := c.Z[j*c.W:][:c.W]
		for i := i0; i <= i1; i++ {
			if z := float32(tip(c.Origin.X+float64(i)*c.Step, y)); z > row[i] {
				row[i] = z
			}
		}
	}
}

// draw draws the surface of a cutter's tip over wood. With a ball it is exact; with other forms edges are looked at every
// spacing mm.
func (c *canvas) draw(w *wood, f *form, spacing float64) {
	corners := make([]spread, len(w.points))
	for i, t := range w.facets {
		if i&0xfff == 0 && c.stop() {
			return
		}
		up := w.up(i)
		var off geom.Vec
		if up {
			off = f.on(w.normals[i])
			c.facet(w.points[t[0]].Add(off), w.points[t[1]].Add(off), w.points[t[2]].Add(off), w.normals[i])
		}
		for _, k := range t {
			if up {
				corners[k].add(off)
			}
			corners[k].open = corners[k].open || !up || w.thin[i]
		}
		if up {
			for e := range 3 {
				c.edge(w, f, i, e, spacing)
			}
		}
	}
	for k, s := range corners {
		if k&0xfff == 0 && c.stop() {
			return
		}
		if !s.any {
			continue
		}
		if p := w.points[k]; f.ball {
			low, high := s.reach(f.r)
			c.each(p.X+low.X, p.Y+low.Y, p.X+high.X, p.Y+high.Y, func(x, y float64) float64 { return f.corner(p, x, y) })
		} else {
			c.disc(p, f)
		}
	}
}

// hair is how far beyond its sides a facet is drawn, mm, so that nothing falls between two.
const hair = 1e-6

// facet draws a triangle with a normal that points up.
func (c *canvas) facet(p, q, r, n geom.Vec) {
	corners := [3]geom.Vec{p, q, r}
	top := max(p.Z, q.Z, r.Z)
	j0, j1 := columns(min(p.Y, q.Y, r.Y)-hair, max(p.Y, q.Y, r.Y)+hair, c.Origin.Y, c.Step, c.H)
	for j := j0; j <= j1; j++ {
		y := c.Origin.Y + float64(j)*c.Step
		left, right := math.Inf(1), math.Inf(-1)
		for k, a := range corners {
			b := corners[(k+1)%3]
			if a.Y > b.Y {
				a, b = b, a
			}
			if y < a.Y-hair || y > b.Y+hair {
				continue
			}
			if b.Y-a.Y < hair {
				left, right = min(left, a.X, b.X), max(right, a.X, b.X)
				continue
			}
			x := a.X + (b.X-a.X)*min(max((y-a.Y)/(b.Y-a.Y), 0), 1)
			left, right = min(left, x), max(right, x)
		}
		i0, i1 := columns(left-hair, right+hair, c.Origin.X, c.Step, c.W)
		row := c.Z[j*c.W:][:c.W]
		for i := i0; i <= i1; i++ {
			x := c.Origin.X + float64(i)*c.Step
			z := float32(min(p.Z-(n.X*(x-p.X)+n.Y*(y-p.Y))/n.Z, top))
			row[i] = max(row[i], z)
		}
	}
}

// edge draws an edge of a facet that is seen from above, once for both facets that share it.
func (c *canvas) edge(w *wood, f *form, i, e int, spacing float64) {
	u, folds := w.other(i, e)
	shared := u >= 0 && w.up(u)
	if !folds || shared && u < i {
		return
	}
	a, b := w.points[w.facets[i][e]], w.points[w.facets[i][(e+1)%3]]
	if !f.ball {
		for n, k := math.Ceil(b.Sub(a).Len()/spacing), 1.0; k < n; k++ {
			c.disc(a.Add(b.Sub(a).Scale(k/n)), f)
		}
		return
	}
	var s spread
	s.add(f.on(w.normals[i]))
	if s.open = !shared || w.thin[i] || w.thin[u]; shared {
		s.add(f.on(w.normals[u]))
	}
	low, high := s.reach(f.r)
	c.strip(a, b, low, high, func(x, y float64) float64 { return f.along(a, b, x, y, none) })
}

// strip visits the places within a box of offsets from a line, row by row.
func (c *canvas) strip(a, b geom.Vec, low, high geom.Vec2, tip func(x, y float64) float64) {
	if a.Y > b.Y {
		a, b = b, a
	}
	j0, j1 := columns(a.Y+low.Y, b.Y+high.Y, c.Origin.Y, c.Step, c.H)
	for j := j0; j <= j1; j++ {
		y := c.Origin.Y + float64(j)*c.Step
		from, to := 0.0, 1.0 // of the line, from where offsets reach this row
		if rise := b.Y - a.Y; rise > 1e-9 {
			from, to = max((y-high.Y-a.Y)/rise, 0), min((y-low.Y-a.Y)/rise, 1)
		}
		x0, x1 := a.X+(b.X-a.X)*from, a.X+(b.X-a.X)*to
		i0, i1 := columns(min(x0, x1)+low.X, max(x0, x1)+high.X, c.Origin.X, c.Step, c.W)
		row := c.Z[j*c.W:][:c.W]
		for i := i0; i <= i1; i++ {
			if z := float32(tip(c.Origin.X+float64(i)*c.Step, y)); z > row[i] {
				row[i] = z
			}
		}
	}
}

// disc draws a corner for a cutter of any form.
func (c *canvas) disc(p geom.Vec, f *form) {
	j0, j1 := columns(p.Y-f.R, p.Y+f.R, c.Origin.Y, c.Step, c.H)
	for j := j0; j <= j1; j++ {
		dy := c.Origin.Y + float64(j)*c.Step - p.Y
		half := math.Sqrt(max(f.R*f.R-dy*dy, 0))
		i0, i1 := columns(p.X-half, p.X+half, c.Origin.X, c.Step, c.W)
		row := c.Z[j*c.W:][:c.W]
		for i := i0; i <= i1; i++ {
			if float64(row[i]) >= p.Z {
				continue
			}
			dx := c.Origin.X + float64(i)*c.Step - p.X
			if rise, ok := f.edge.At(math.Sqrt(dx*dx + dy*dy)); ok {
				row[i] = max(row[i], float32(p.Z-rise))
			}
		}
	}
}
