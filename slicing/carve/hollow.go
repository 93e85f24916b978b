package carve

import (
	"math"
	"slices"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
)

// A Span is what lies between two heights.
type Span struct{ Bottom, Top float64 }

// A Hollow is what is cut away inside the piece. It must be safe for use by several goroutines.
type Hollow interface {
	// Row is the hollow in the upright plane at y.
	Row(y float64) Line
}

// A Line is a hollow in one upright plane along x; it is used by one goroutine.
type Line interface {
	// Column appends to out what is hollow at x between two heights that bound solid wood, from the bottom up, without
	// overlaps.
	Column(out []Span, x, bottom, top float64) []Span
}

// Carved is a hollow that follows the outside: all that lies deeper than Wall, between the heights Bottom and Top (solid
// layers at the ends lie beyond them).
type Carved struct {
	Grid        *field.Grid
	Placement   geom.Placement
	Wall        float64 // mm
	Bottom, Top float64
}

// Row is the hollow in the upright plane at y.
func (c Carved) Row(y float64) Line {
	way := c.Placement.Turn.Inverse()
	unit := 1 / c.Placement.Scale
	return &carvedLine{
		Carved: c,
		at:     c.Placement.Back(geom.Vec{Y: y}),
		along:  way.Apply(geom.Vec{X: 1}).Scale(unit),
		up:     way.Apply(geom.Vec{Z: 1}).Scale(unit),
		step:   c.Grid.Step() * c.Placement.Scale,
	}
}

type carvedLine struct {
	Carved
	at, along, up geom.Vec // piece units per mm
	step          float64  // of the grid, mm
}

const (
	// trust is the share of a measured depth that is relied on when heights are passed over: interpolated depths may change
	// a little faster than the way gone.
	trust = 0.9
	// leastStride is the shortest stride along a column as a share of the grid's step: thinner hollows are passed over.
	leastStride = 0.5
)

// Column strides up the column as far as the depth allows. Wood within a wall's thickness of a surface above or below can't
// be hollow, so the search starts there, a step early since depths are interpolated.
func (l *carvedLine) Column(out []Span, x, bottom, top float64) []Span {
	lag := max(l.Wall-l.step, 0)
	z, end := max(bottom+lag, l.Bottom), min(top-lag, l.Top)
	if !(z < end) {
		return out
	}
	p := l.at.Add(l.along.Scale(x))
	v := l.over(p, z)
	from, open := z, v > 0
	for z < end {
		next := min(z+max(math.Abs(v)*trust, l.step*leastStride), end)
		w := l.over(p, next)
		if (w > 0) != open {
			at := l.meet(p, z, v, next, w)
			if open {
				out = append(out, Span{from, at})
			}
			from, open = at, !open
		}
		z, v = next, w
	}
	if open {
		out = append(out, Span{from, end})
	}
	return out
}

// over is the depth less the wall at height z of the column through p, mm.
func (l *carvedLine) over(p geom.Vec, z float64) float64 {
	q := geom.Vec{X: p.X + z*l.up.X, Y: p.Y + z*l.up.Y, Z: p.Z + z*l.up.Z}
	return l.Grid.Depth(q)*l.Placement.Scale - l.Wall
}

// meet is where the depth passes the wall between two heights where it lies on different sides (false position, twice).
func (l *carvedLine) meet(p geom.Vec, a, va, b, vb float64) float64 {
	for range 2 {
		m := a + (b-a)*va/(va-vb)
		if vm := l.over(p, m); (vm > 0) == (va > 0) {
			a, va = m, vm
		} else {
			b, vb = m, vm
		}
	}
	return a + (b-a)*va/(va-vb)
}

// Pockets is a hollow of upright pockets: in each slab the same region at every height.
type Pockets []Pocket

// A Pocket is the hollow of one layer.
type Pocket struct {
	Slab   stack.Slab
	Region geom.Region
}

// Row is the hollow in the upright plane at y.
func (ps Pockets) Row(y float64) Line {
	var out pocketLine
	for _, p := range ps {
		if ways := wayIn(p.Region, y); len(ways) > 0 {
			out = append(out, pocketRow{p.Slab.Bottom, p.Slab.Top, ways})
		}
	}
	return out
}

// A pocketRow is the stretches of x in which a pocket is open.
type pocketRow struct {
	bottom, top float64
	ways        [][2]float64
}

type pocketLine []pocketRow

// Column appends the pockets above one another at x.
func (l pocketLine) Column(out []Span, x, bottom, top float64) []Span {
	for _, r := range l {
		lo, hi := max(bottom, r.bottom), min(top, r.top)
		if !(lo < hi) || !within(r.ways, x) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Top == lo {
			out[n-1].Top = hi
		} else {
			out = append(out, Span{lo, hi})
		}
	}
	return out
}

func within(ways [][2]float64, x float64) bool {
	i, _ := slices.BinarySearchFunc(ways, x, func(w [2]float64, x float64) int {
		if w[1] <= x {
			return -1
		}
		return 1
	})
	return i < len(ways) && ways[i][0] <= x
}

// wayIn is where the row at y runs inside a region.
func wayIn(g geom.Region, y float64) [][2]float64 {
	type crossing struct {
		x   float64
		add int
	}
	var cs []crossing
	for _, r := range g {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a.Y <= y) == (b.Y <= y) {
				continue
			}
			add := 1 // the outline's right side runs up, its left side down
			if b.Y > a.Y {
				add = -1
			}
			cs = append(cs, crossing{a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), add})
		}
	}
	slices.SortFunc(cs, func(a, b crossing) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return b.add - a.add
	})
	var out [][2]float64
	sum := 0
	for _, c := range cs {
		was := sum > 0
		sum += c.add
		if now := sum > 0; now && !was {
			out = append(out, [2]float64{c.x, c.x})
		} else if was && !now {
			out[len(out)-1][1] = c.x
		}
	}
	return out
}
