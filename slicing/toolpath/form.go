package toolpath

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// A form is a cutter that is set down on facets, edges and corners.
type form struct {
	cutter stock.Cutter
	edge   stock.Edge
	ball   bool
	r, R   float64 // of the rounding, of the cutter
}

func newForm(c stock.Cutter) form {
	return form{cutter: c, edge: c.Edge(), ball: c.Shape == stock.Ball, r: c.TipRadius(), R: c.Diameter / 2}
}

// on is how the tip stands off the place where the cutter touches a slope with the unit normal n, which points up.
func (f *form) on(n geom.Vec) geom.Vec {
	if f.ball {
		return geom.Vec{X: f.r * n.X, Y: f.r * n.Y, Z: f.r*n.Z - f.r}
	}
	flat := math.Hypot(n.X, n.Y)
	away := f.cutter.ContactAt(math.Atan2(flat, n.Z))
	rise, _ := f.edge.At(min(away, f.R))
	if flat < 1e-9 {
		return geom.Vec{Z: -rise}
	}
	return geom.Vec{X: away * n.X / flat, Y: away * n.Y / flat, Z: -rise}
}

// none is lower than any tip goes.
const none = -1e9

// corner is the tip's height over x, y on a corner.
func (f *form) corner(p geom.Vec, x, y float64) float64 {
	dx, dy := x-p.X, y-p.Y
	d2 := dx*dx + dy*dy
	if d2 > f.R*f.R {
		return none
	}
	if f.ball {
		return p.Z + math.Sqrt(f.r*f.r-d2) - f.r
	}
	rise, ok := f.edge.At(math.Sqrt(d2))
	if !ok {
		return none
	}
	return p.Z - rise
}

// along is the tip's height over x, y on the edge from a to b, not on its ends; none where it is seen to be no higher than least.
func (f *form) along(a, b geom.Vec, x, y, least float64) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	l2 := dx*dx + dy*dy
	if l2 < 1e-18 {
		return none
	}
	l := math.Sqrt(l2)
	dx, dy = dx/l, dy/l
	px, py := x-a.X, y-a.Y
	s, d := px*dx+py*dy, px*dy-py*dx
	m := (b.Z - a.Z) / l
	if d*d >= f.R*f.R {
		return none
	}
	if f.ball {
		high := math.Sqrt((f.r*f.r - d*d) * (1 + m*m))
		if foot := s + high*m/(1+m*m); foot < 0 || foot > l {
			return none
		}
		return a.Z + s*m + high - f.r
	}
	return f.highest(a.Z, m, s, d, l, least)
}

// highest looks for the place of an edge that holds a cutter up highest: heights of the tip over places of an edge have one
// top, since the cutter is convex.
func (f *form) highest(z, m, s, d, l, least float64) float64 {
	reach := math.Sqrt(f.R*f.R - d*d)
	low, high := max(s-reach, 0), min(s+reach, l)
	if low > high {
		return none
	}
	if rise, _ := f.edge.At(d); z+max(m*low, m*high)-rise <= least {
		return none
	}
	at := func(t float64) float64 {
		rise, ok := f.edge.At(min(math.Hypot(t-s, d), f.R))
		if !ok {
			return none
		}
		return z + t*m - rise
	}
	for range 24 {
		third := (high - low) / 3
		if at(low+third) < at(high-third) {
			low += third
		} else {
			high -= third
		}
	}
	return at((low + high) / 2)
}
