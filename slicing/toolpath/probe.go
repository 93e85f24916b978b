package toolpath

import (
	"cmp"
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
	items  []held
	sorted []bool     // a square's facets stand with those first that may hold the tip highest
	off    []geom.Vec // of each facet that is seen from above, how the tip stands off it
	round  []disc     // of the same, where it lies
	last   int32      // the facet that held the tip up when one was asked for last: beside that place it does so again, or nearly
}

// A held is a facet with a height above which it holds the tip nowhere in its square.
type held struct {
	high  float32
	facet int32
}

// A disc is an upright cylinder round a facet, without end below its top.
type disc struct{ x, y, r, top float64 }

// newProbe sorts the facets that are seen from above into squares from which the cutter may touch them.
func newProbe(w *wood, c form) *probe {
	p := &probe{wood: w, form: c, off: make([]geom.Vec, len(w.facets)), round: make([]disc, len(w.facets)), last: -1}
	box := geom.EmptyBox2()
	for i, t := range w.facets {
		if w.up(i) {
			p.off[i] = c.on(w.normals[i])
			p.round[i] = roundOf(w.points[t[0]], w.points[t[1]], w.points[t[2]])
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
	p.items = make([]held, p.start[len(p.start)-1])
	next := slices.Clone(p.start)
	p.eachSquare(func(k int, i int32) { p.items[next[k]].facet = i; next[k]++ })
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

// roundOf is a disc round a facet.
func roundOf(a, b, c geom.Vec) disc {
	x, y := (min(a.X, b.X, c.X)+max(a.X, b.X, c.X))/2, (min(a.Y, b.Y, c.Y)+max(a.Y, b.Y, c.Y))/2
	r := max(math.Hypot(a.X-x, a.Y-y), math.Hypot(b.X-x, b.Y-y), math.Hypot(c.X-x, c.Y-y))
	return disc{x, y, r, max(a.Z, b.Z, c.Z)}
}

// high is a height above which a facet doesn't hold the tip, as far as about from a place.
func (p *probe) high(facet int32, x, y, about float64) float64 {
	d := &p.round[facet]
	dx, dy, near := x-d.x, y-d.y, d.r+about
	apart := dx*dx + dy*dy
	if apart <= near*near {
		return d.top
	}
	if far := p.form.R + near; apart > far*far {
		return none
	}
	rise, _ := p.form.edge.At(min(math.Sqrt(apart)-near, p.form.R))
	return d.top - rise
}

// sort puts a square's facets in order.
func (p *probe) sort(i, j int, facets []held) {
	const rounding = 1e-3 // more than a float32 is off by
	x, y := p.origin.X+(float64(i)+0.5)*cell, p.origin.Y+(float64(j)+0.5)*cell
	for n := range facets {
		facets[n].high = float32(p.high(facets[n].facet, x, y, cell/math.Sqrt2) + rounding)
	}
	slices.SortFunc(facets, func(a, b held) int {
		return cmp.Or(cmp.Compare(b.high, a.high), cmp.Compare(a.facet, b.facet))
	})
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
		p.sort(i, j, facets)
		p.sorted[k] = true
	}
	best := least
	if p.last >= 0 {
		best = max(best, p.facet(int(p.last), x, y, best))
	}
	for _, f := range facets {
		if float64(f.high) <= best {
			break
		}
		if p.high(f.facet, x, y, 0) <= best {
			continue
		}
		if z := p.facet(int(f.facet), x, y, best); z > best {
			best, p.last = z, f.facet
		}
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
