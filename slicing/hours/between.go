package hours

import (
	"math"

	"grainstack/slicing/plane"
)

const (
	// bulge is how far a tip's surface may stand above the straight line between two columns before it is looked at in between,
	// mm.
	bulge = 0.003
	// mostHalved is how often the way between two columns is halved.
	mostHalved = 6
)

// probeOf is the exact height of a pass's tip at a place of the raster, in mm, or least where that is higher; nil where columns have
// to do.
func (w *worker) probeOf(pass int) func(x, y, least float64) float64 {
	tip := w.exact[pass]
	if tip == nil {
		return nil
	}
	return func(x, y, least float64) float64 {
		if w.AlongY {
			x, y = y+w.Origin.Y, x+w.Origin.X
		} else {
			x, y = x+w.Origin.X, y+w.Origin.Y
		}
		return tip(x, y, least)
	}
}

// between brings heights dx apart into xs and zs. Where the tip's surface is known exactly, places are put in between columns
// where it bends: as a ball rolls over an edge, the line from column to column would cut the edge.
func (w *worker) between(z []float32, x0, dx, y float64) {
	w.xs, w.zs = w.xs[:0], w.zs[:0]
	bends := func(i int) float64 {
		if i < 1 || i+1 >= len(z) {
			return 0
		}
		return math.Abs(float64(z[i-1]) - 2*float64(z[i]) + float64(z[i+1]))
	}
	before := 0.0
	for i, v := range z {
		x := x0 + float64(i)*dx
		if bend := bends(i); w.probe != nil && i > 0 {
			rise := float64(v - z[i-1])
			if max(bend, before)/8*w.Step > bulge*math.Sqrt(w.Step*w.Step+rise*rise) {
				w.halve(x-dx, float64(z[i-1]), x, float64(v), y, mostHalved)
			}
			before = bend
		}
		w.xs, w.zs = append(w.xs, x), append(w.zs, float64(v))
	}
}

// halve puts places between two until the straight lines lie near enough to the surface.
func (w *worker) halve(xa, za, xb, zb, y float64, deeper int) {
	x := (xa + xb) / 2
	z, near := w.halfway(xa, za, xb, zb, y)
	if near && math.Abs(zb-za) > math.Abs(xb-xa) { // over an edge and down a wall the middle alone may lie on the line by chance
		_, nearA := w.halfway(xa, za, x, z, y)
		_, nearB := w.halfway(x, z, xb, zb, y)
		near = nearA && nearB
	}
	if deeper == 0 || near {
		w.xs, w.zs = append(w.xs, x), append(w.zs, max(z, (za+zb)/2))
		return
	}
	w.halve(xa, za, x, z, y, deeper-1)
	w.xs, w.zs = append(w.xs, x), append(w.zs, z)
	w.halve(x, z, xb, zb, y, deeper-1)
}

// halfway is the tip's height half-way between two places, and whether it lies near enough to the straight line between them.
func (w *worker) halfway(xa, za, xb, zb, y float64) (z float64, near bool) {
	z = w.probe((xa+xb)/2, y, min(za, zb))
	off := math.Abs(z-(za+zb)/2) * math.Abs(xb-xa)
	return z, off <= bulge*math.Hypot(xb-xa, zb-za)
}

// step goes from the end of a row to the start of the next, no lower than the tip's surface and a height: straight on, or where that
// leads out of the mask along the two rows to where both have wood. It says no where a hop is as quick or that leads out of it too:
// rows that overlap may end far from one another, with the frame in between.
func (w *worker) step(p place, before, next plane.Run, tips []float32, least float64, in *plane.Mask) bool {
	if w.sees(p, in) {
		w.beside(p, least)
		return true
	}
	from, to := float64(max(before.From, next.From))*w.Step, float64(min(before.To, next.To))*w.Step
	x := min(max(p.x, from), to)
	a, b := place{x: x, y: w.at.y}, place{x: x, y: p.y}
	way := math.Abs(a.x-w.at.x) + math.Abs(p.x-b.x)
	if way/w.feed > w.hopTime(p) || !w.clear(a, b, in) {
		return false
	}
	a.z, b.z = w.above(tips, a, least), w.above(tips, b, least)
	for _, q := range [3]place{a, b, p} {
		w.across(q, tips, least)
	}
	return true
}

// beside goes straight on to a place next to where the cutter is.
func (w *worker) beside(p place, least float64) {
	if w.probe == nil {
		w.to(p)
		return
	}
	w.over(p, least)
}

// above is how low the tip may go at a place, but no lower than a height.
func (w *worker) above(tips []float32, p place, least float64) float64 {
	if w.probe != nil {
		return w.probe(p.x, p.y, least)
	}
	return max(float64(tips[int(math.Round(p.y/w.Step))*w.W+int(math.Round(p.x/w.Step))]), least)
}

// fine is how far apart the places are at which a straight way is held against the tip's surface, mm.
const fine = 0.1

// over goes straight on to p, but no lower than the tip's surface, which has to be known exactly, and another height, which it gives
// back: once more would have to be taken than may be at once it is raised for good, since what stands ahead would be too much again.
func (w *worker) over(p place, least float64) float64 {
	from, before := w.at, w.at
	n := math.Ceil(math.Hypot(p.x-from.x, p.y-from.y) / fine)
	for k := 1.0; k < n; k++ {
		t := k / n
		q := place{from.x + (p.x-from.x)*t, from.y + (p.y-from.y)*t, from.z + (p.z-from.z)*t}
		if most := w.bite(q.x, q.y); most > max(least, q.z)+trueChord {
			least, w.held = most, true
		}
		if z := w.probe(q.x, q.y, max(least, q.z)); z > q.z+bulge {
			w.to(before)
			q.z = z
			w.bend(q, mostHalved)
		}
		before = q
	}
	p.z = max(p.z, w.bite(p.x, p.y))
	if w.held {
		p.z = max(p.z, least)
	}
	if d := p.less(w.at); -d.z > steepest {
		t := fine / max(math.Hypot(d.x, d.y), fine) // aside before down: over an edge the straight way lies in it
		w.bend(place{w.at.x + d.x*t, w.at.y + d.y*t, w.at.z}, mostHalved)
		w.plungeTo(p)
	} else {
		w.bend(p, mostHalved)
	}
	return least
}

// brink is within how much way a wall is found that a way leads up or down, mm.
const brink = 0.02

// bend goes on to p over what the tip's surface stands above the straight way, where it is looked at half-way, and half-way again.
func (w *worker) bend(p place, deeper int) {
	a := w.at
	if flat := math.Hypot(p.x-a.x, p.y-a.y); deeper > 0 && flat > 0 && flat < 2*fine {
		m, above := w.midway(a, p)
		if !above && math.Abs(p.z-a.z) > flat { // up or down a wall the middle alone may lie on the line by chance
			_, before := w.midway(a, m)
			_, after := w.midway(m, p)
			above = before || after || flat > brink && math.Abs(p.z-a.z) > steepest
		}
		if above {
			w.bend(m, deeper-1)
			w.bend(p, deeper-1)
			return
		}
	}
	w.to(p)
}

// midway is half-way between two places, no lower than the tip's surface, and whether that stands above the straight way there.
func (w *worker) midway(a, b place) (m place, above bool) {
	m = place{(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2}
	z := w.probe(m.x, m.y, m.z)
	flat := math.Hypot(b.x-a.x, b.y-a.y)
	above = (z-m.z)*flat > bulge*math.Hypot(flat, b.z-a.z)
	m.z = z
	return m, above
}

// steepest is from where on the last of a way down is a plunge, mm.
const steepest = 1.0
