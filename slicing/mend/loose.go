package mend

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A side is a triangle's half-edge without partner: places low and high are its points, half its place in the adjacency.
type side struct {
	low, high, half int32
	up              bool // the triangle runs from low to high
}

// looseSides lists the half-edges without partner, those on one edge together.
func looseSides(m *mesh.Mesh, adj mesh.Adjacency) []side {
	var out []side
	for h, twin := range adj {
		if twin >= 0 {
			continue
		}
		a, b := ends(m, int32(h))
		out = append(out, side{min(a, b), max(a, b), int32(h), a < b})
	}
	slices.SortFunc(out, func(a, b side) int {
		return cmp.Or(cmp.Compare(a.low, b.low), cmp.Compare(a.high, b.high), cmp.Compare(a.half, b.half))
	})
	return out
}

// ends are the points from which and to which half-edge h runs.
func ends(m *mesh.Mesh, h int32) (from, to int32) {
	t := &m.Triangles[h/3]
	return t[h%3], t[(h+1)%3]
}

// edgeGroups calls visit for each edge with all its loose sides.
func edgeGroups(sides []side, visit func(group []side)) {
	for len(sides) > 0 {
		n := 1
		for n < len(sides) && sides[n].low == sides[0].low && sides[n].high == sides[0].high {
			n++
		}
		visit(sides[:n])
		sides = sides[n:]
	}
}

// A tally counts edges by what is wrong with them.
type tally struct{ open, against, crowded int }

func tallyOf(sides []side) tally {
	var t tally
	edgeGroups(sides, func(g []side) {
		switch {
		case len(g) == 1:
			t.open++
		case len(g) == 2:
			t.against++
		default:
			t.crowded++
		}
	})
	return t
}

// openHalves marks the half-edges that are alone on their edge.
func openHalves(sides []side) map[int32]bool {
	out := map[int32]bool{}
	edgeGroups(sides, func(g []side) {
		if len(g) == 1 {
			out[g[0].half] = true
		}
	})
	return out
}

// A rim is a closed line of loose half-edges, each beginning where the one before ends.
type rim struct {
	halves []int32
	points []int32 // where each half-edge begins
	open   bool    // all of them alone on their edge
}

// rimsOf follows the loose half-edges round each hole; a line that comes through a point twice is parted there.
func rimsOf(m *mesh.Mesh, adj mesh.Adjacency, sides []side) []rim {
	open := openHalves(sides)
	seen := make(map[int32]bool, len(sides))
	starts := make([]int32, len(sides))
	for i, s := range sides {
		starts[i] = s.half
	}
	slices.Sort(starts)
	var out []rim
	for _, start := range starts {
		if seen[start] {
			continue
		}
		var line []int32
		for h := start; !seen[h]; h = nextLoose(adj, h) {
			seen[h] = true
			line = append(line, h)
		}
		out = append(out, part(m, line, open)...)
	}
	return out
}

// nextLoose turns about the half-edge's end through the triangles there to an edge without partner.
func nextLoose(adj mesh.Adjacency, h int32) int32 {
	for {
		h = h/3*3 + (h+1)%3
		if adj[h] < 0 {
			return h
		}
		h = adj[h]
	}
}

// part cuts a closed line where it comes back to a point it has been at.
func part(m *mesh.Mesh, line []int32, open map[int32]bool) []rim {
	var out []rim
	var stack []int32
	place := map[int32]int{}
	emit := func(from int) {
		r := rim{halves: slices.Clone(stack[from:]), open: true}
		for _, h := range r.halves {
			p, _ := ends(m, h)
			r.points = append(r.points, p)
			r.open = r.open && open[h]
			delete(place, p)
		}
		stack = stack[:from]
		out = append(out, r)
	}
	for _, h := range line {
		p, _ := ends(m, h)
		if at, ok := place[p]; ok {
			emit(at)
		}
		place[p] = len(stack)
		stack = append(stack, h)
	}
	if len(stack) > 0 {
		emit(0)
	}
	return out
}

// length is the way round the rim.
func (r *rim) length(m *mesh.Mesh) float64 {
	sum := 0.0
	for i, p := range r.points {
		sum += m.Points[r.points[(i+1)%len(r.points)]].Vec().Sub(m.Points[p].Vec()).Len()
	}
	return sum
}

// A fit is the plane that fits a closed line best: its normal is the line's area vector, turned out of the solid.
type fit struct {
	middle, normal geom.Vec
	uneven         float64 // greatest distance of a point from the plane
	box            geom.Box
	extent         float64 // the box's longest side
	facing         float64 // mean cosine of the facets along the rim against the normal: near 1 in a smooth surface
}

// fitOf fits a plane to a rim. The solid's own triangles run along the rim, so a cap runs against it.
func fitOf(m *mesh.Mesh, r *rim) fit {
	points := r.points
	f := fit{box: geom.EmptyBox()}
	total := 0.0
	for i, p := range points {
		a, b := m.Points[p].Vec(), m.Points[points[(i+1)%len(points)]].Vec()
		w := b.Sub(a).Len()
		f.middle = f.middle.Add(a.Add(b).Scale(w / 2))
		total += w
		f.box = f.box.Add(a)
	}
	if total > 0 {
		f.middle = f.middle.Scale(1 / total)
	} else {
		f.middle = f.box.Center()
	}
	for i, p := range points {
		a, b := m.Points[p].Vec().Sub(f.middle), m.Points[points[(i+1)%len(points)]].Vec().Sub(f.middle)
		f.normal = f.normal.Sub(a.Cross(b))
	}
	f.normal = f.normal.Unit()
	for _, h := range r.halves {
		c := cornersOf(m, m.Triangles[h/3])
		f.facing += f.normal.Dot(normalOf(&c)) / float64(len(r.halves))
	}
	for _, p := range points {
		f.uneven = max(f.uneven, abs(f.normal.Dot(m.Points[p].Vec().Sub(f.middle))))
	}
	s := f.box.Size()
	f.extent = max(s.X, s.Y, s.Z)
	return f
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
