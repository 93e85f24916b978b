package toolpath

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// cell is the size of the squares by which facets are found, mm.
const cell = 2.0

// A probe tells the height of a cutter's tip over single places. It is scratch of one goroutine.
type probe struct {
	wood   *wood
	form   form
	origin geom.Vec2
	nx, ny int
	start  []int32 // of each square's facets in items, and behind the last one where they end
	items  []int32
	sorted []bool     // a square's facets stand with the highest first
	off    []geom.Vec // of each facet that is seen from above, how the tip stands off it
}

// newProbe sorts the facets that are seen from above into squares from which the cutter may touch them.
func newProbe(w *wood, c form) *probe {
	p := &probe{wood: w, form: c, off: make([]geom.Vec, len(w.facets))}
	box := geom.EmptyBox2()
	for i, t := range w.facets {
		if w.up(i) {
			p.off[i] = c.on(w.normals[i])
			for _, k := range t {
				box = box.Add(geom.Vec2{X: w.points[k].X, Y: w.points[k].Y})
			}
		}
	}
	if box.Empty() {
		return p
	}
	p.origin = geom.Vec2{X: box.Min.X - c.R - cell, Y: box.Min.Y - c.R - cell}
	size := box.Size()
	p.nx, p.ny = int((size.X+2*c.R)/cell)+3, int((size.Y+2*c.R)/cell)+3
	p.start = make([]int32, p.nx*p.ny+1)
	p.sorted = make([]bool, p.nx*p.ny)
	p.eachSquare(func(k int, _ int32) { p.start[k+1]++ })
	for k := 1; k < len(p.start); k++ {
		p.start[k] += p.start[k-1]
	}
	p.items = make([]int32, p.start[len(p.start)-1])
	next := slices.Clone(p.start)
	p.eachSquare(func(k int, i int32) { p.items[next[k]] = i; next[k]++ })
	return p
}

func (p *probe) eachSquare(visit func(k int, facet int32)) {
	for i, t := range p.wood.facets {
		if !p.wood.up(i) {
			continue
		}
		a, b, c := p.wood.points[t[0]], p.wood.points[t[1]], p.wood.points[t[2]]
		i0, j0 := p.square(min(a.X, b.X, c.X)-p.form.R, min(a.Y, b.Y, c.Y)-p.form.R)
		i1, j1 := p.square(max(a.X, b.X, c.X)+p.form.R, max(a.Y, b.Y, c.Y)+p.form.R)
		for j := j0; j <= j1; j++ {
			for k := i0; k <= i1; k++ {
				visit(j*p.nx+k, int32(i))
			}
		}
	}
}

func (p *probe) square(x, y float64) (i, j int) {
	return int(math.Floor((x - p.origin.X) / cell)), int(math.Floor((y - p.origin.Y) / cell))
}

// top is the highest corner of a facet.
func (p *probe) top(i int32) float64 {
	t := p.wood.facets[i]
	return max(p.wood.points[t[0]].Z, p.wood.points[t[1]].Z, p.wood.points[t[2]].Z)
}

// at is the tip's height over a place, or least where it touches nothing as high.
func (p *probe) at(x, y, least float64) float64 {
	i, j := p.square(x, y)
	if i < 0 || j < 0 || i >= p.nx || j >= p.ny {
		return least
	}
	k := j*p.nx + i
	facets := p.items[p.start[k]:p.start[k+1]]
	if !p.sorted[k] {
		slices.SortFunc(facets, func(a, b int32) int {
			if d := p.top(b) - p.top(a); d != 0 {
				return int(math.Copysign(1, d))
			}
			return int(a - b)
		})
		p.sorted[k] = true
	}
	best := least
	for _, n := range facets {
		if p.top(n) <= best {
			break // a tip never stands above what it touches
		}
		best = max(best, p.facet(int(n), x, y, best))
	}
	return best
}

// facet is the tip's height on one facet, its edges and its corners, or least where that is higher.
func (p *probe) facet(i int, x, y, least float64) float64 {
	t, n := p.wood.facets[i], p.wood.normals[i]
	v := [3]geom.Vec{p.wood.points[t[0]], p.wood.points[t[1]], p.wood.points[t[2]]}
	off := p.off[i]
	q := geom.Vec2{X: x - off.X, Y: y - off.Y}
	inside := true
	for k, a := range v {
		b := v[(k+1)%3]
		if p.wood.turn*((b.X-a.X)*(q.Y-a.Y)-(b.Y-a.Y)*(q.X-a.X)) < 0 {
			inside = false
			break
		}
	}
	if inside {
		return v[0].Z - (n.X*(q.X-v[0].X)+n.Y*(q.Y-v[0].Y))/n.Z + off.Z
	}
	if r := p.form.R; max(v[0].X, v[1].X, v[2].X) < x-r || min(v[0].X, v[1].X, v[2].X) > x+r || max(v[0].Y, v[1].Y, v[2].Y) < y-r || min(v[0].Y, v[1].Y, v[2].Y) > y+r {
		return least
	}
	for k, a := range v {
		if a.Z > least {
			least = max(least, p.form.corner(a, x, y))
		}
		if b := v[(k+1)%3]; max(a.Z, b.Z) > least {
			least = max(least, p.form.along(a, b, x, y, least))
		}
	}
	return least
}
