package mend

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// seamTolerances are the shares of the box's diagonal within which points of open edges are tried as one, finest first. A
// coarser one is tried only while edges are still open, and kept only if it closes some and makes no edge crowded.
func seamTolerances() [3]float64 { return [3]float64{1e-5, 1e-4, 5e-4} }

// shyness is the share of the shorter open edge at a point within which it is never joined to another.
const shyness = 0.3

// closeSeams joins points of open edges that lie together and splits open edges on which a point lies.
func closeSeams(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency) (out *mesh.Mesh, outAdj mesh.Adjacency, welded, split int, err error) {
	diagonal := m.Box().Size().Len()
	for _, share := range seamTolerances() {
		sides := looseSides(m, adj)
		before := tallyOf(sides)
		if before.open == 0 {
			break
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, 0, 0, err
		}
		tol := share * diagonal
		w, nw := weldOpen(m, sides, tol)
		wadj := adj
		if nw > 0 {
			wadj = w.Adjacency()
			sides = looseSides(w, wadj)
		}
		s, ns, err := splitOpen(ctx, w, sides, tol)
		if err != nil {
			return nil, nil, 0, 0, err
		}
		sadj := wadj
		if ns > 0 {
			sadj = s.Adjacency()
		}
		for _, try := range []struct {
			m       *mesh.Mesh
			adj     mesh.Adjacency
			nw, ns  int
			changed bool
		}{{s, sadj, nw, ns, ns > 0}, {w, wadj, nw, 0, nw > 0}} {
			if !try.changed {
				continue
			}
			after := tallyOf(looseSides(try.m, try.adj))
			if after.open < before.open && after.crowded <= before.crowded {
				m, adj = try.m, try.adj
				welded, split = welded+try.nw, split+try.ns
				break
			}
		}
	}
	return m, adj, welded, split, nil
}

// openPoints are the points of open edges, ascending, and the length of the shortest open edge at each.
func openPoints(m *mesh.Mesh, sides []side) (points []int32, shortest []float64) {
	at := map[int32]float64{}
	edgeGroups(sides, func(g []side) {
		if len(g) != 1 {
			return
		}
		l := m.Points[g[0].low].Vec().Sub(m.Points[g[0].high].Vec()).Len()
		for _, p := range [2]int32{g[0].low, g[0].high} {
			if old, ok := at[p]; !ok || l < old {
				at[p] = l
			}
		}
	})
	for p := range at {
		points = append(points, p)
	}
	slices.Sort(points)
	for _, p := range points {
		shortest = append(shortest, at[p])
	}
	return points, shortest
}

// weldOpen makes points of open edges one that lie within tol of each other. Facets that shrink to a line go.
func weldOpen(m *mesh.Mesh, sides []side, tol float64) (*mesh.Mesh, int) {
	points, shortest := openPoints(m, sides)
	cells := map[[3]int32][]int32{}
	to := map[int32]int32{}
	low := m.Box().Min
	for i, p := range points {
		v := m.Points[p].Vec()
		c := cellAt(v.Sub(low), tol)
		best, bestD := int32(-1), tol
		for n := range 27 {
			near := [3]int32{c[0] + int32(n%3) - 1, c[1] + int32(n/3%3) - 1, c[2] + int32(n/9) - 1}
			for _, j := range cells[near] {
				d := m.Points[points[j]].Vec().Sub(v).Len()
				if d < bestD && d < shyness*min(shortest[i], shortest[j]) {
					best, bestD = points[j], d
				}
			}
		}
		if best >= 0 {
			to[p] = best
			continue
		}
		cells[c] = append(cells[c], int32(i))
	}
	if len(to) == 0 {
		return m, 0
	}
	out := &mesh.Mesh{Points: m.Points, Triangles: make([]mesh.Triangle, 0, len(m.Triangles))}
	for _, t := range m.Triangles {
		for k, v := range t {
			if w, ok := to[v]; ok {
				t[k] = w
			}
		}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			out.Triangles = append(out.Triangles, t)
		}
	}
	return out, len(to)
}

func cellAt(v geom.Vec, size float64) [3]int32 {
	return [3]int32{int32(v.X / size), int32(v.Y / size), int32(v.Z / size)}
}

// A cut is a point that lies on an open edge, and how far along.
type cut struct {
	half  int32
	along float64
	point int32
}

// splitOpen splits open edges at points of other open edges that lie on them within tol.
func splitOpen(ctx context.Context, m *mesh.Mesh, sides []side, tol float64) (*mesh.Mesh, int, error) {
	points, _ := openPoints(m, sides)
	lines := &mesh.Mesh{Points: m.Points}
	var halves []int32
	edgeGroups(sides, func(g []side) {
		if len(g) == 1 {
			a, b := ends(m, g[0].half)
			lines.Triangles = append(lines.Triangles, mesh.Triangle{a, b, b})
			halves = append(halves, g[0].half)
		}
	})
	h, err := boxtree.New(ctx, lines)
	if err != nil {
		return nil, 0, err
	}
	var cuts []cut
	for _, p := range points {
		h.Within(m.Points[p].Vec(), tol, func(line int32) {
			t := lines.Triangles[line]
			if t[0] == p || t[1] == p {
				return
			}
			if along, ok := onSegment(m.Points[t[0]].Vec(), m.Points[t[1]].Vec(), m.Points[p].Vec(), tol); ok {
				cuts = append(cuts, cut{halves[line], along, p})
			}
		})
	}
	if len(cuts) == 0 {
		return m, 0, nil
	}
	slices.SortFunc(cuts, func(a, b cut) int {
		switch {
		case a.half != b.half:
			return int(a.half) - int(b.half)
		case a.along < b.along:
			return -1
		case a.along > b.along:
			return 1
		}
		return int(a.point) - int(b.point)
	})
	return splitAt(m, cuts), len(cuts), nil
}

// onSegment reports whether p lies on the segment from a to b within tol, clear of its ends, and how far along.
func onSegment(a, b, p geom.Vec, tol float64) (along float64, ok bool) {
	ab := b.Sub(a)
	l2 := ab.Dot(ab)
	if l2 == 0 {
		return 0, false
	}
	along = p.Sub(a).Dot(ab) / l2
	if along <= 0 || along >= 1 || p.Sub(a.Add(ab.Scale(along))).Len() > tol {
		return 0, false
	}
	clear := min(tol, shyness*math.Sqrt(l2))
	return along, along*math.Sqrt(l2) > clear && (1-along)*math.Sqrt(l2) > clear
}

// splitAt replaces each facet that is cut by a fan over its outline with the cuts in it.
func splitAt(m *mesh.Mesh, cuts []cut) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points, Triangles: append([]mesh.Triangle(nil), m.Triangles...)}
	for len(cuts) > 0 {
		f := cuts[0].half / 3
		t := m.Triangles[f]
		var on [3][]int32
		for len(cuts) > 0 && cuts[0].half/3 == f {
			k := cuts[0].half % 3
			if n := len(on[k]); n == 0 || on[k][n-1] != cuts[0].point {
				on[k] = append(on[k], cuts[0].point)
			}
			cuts = cuts[1:]
		}
		parts := cutFacet(t, on)
		out.Triangles[f] = parts[0]
		out.Triangles = append(out.Triangles, parts[1:]...)
	}
	return out
}

// cutFacet divides a facet with points on its sides: one side's points are joined to the corner opposite, the two facets
// at the ends go on with the points on their own sides.
func cutFacet(t mesh.Triangle, on [3][]int32) []mesh.Triangle {
	for k := range 3 {
		if len(on[k]) == 0 {
			continue
		}
		a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
		line := append(append([]int32{a}, on[k]...), b)
		var out []mesh.Triangle
		for i := range len(line) - 1 {
			var rest [3][]int32
			if i == 0 {
				rest[2] = on[(k+2)%3]
			}
			if i == len(line)-2 {
				rest[1] = on[(k+1)%3]
			}
			out = append(out, cutFacet(mesh.Triangle{line[i], line[i+1], c}, rest)...)
		}
		return out
	}
	return []mesh.Triangle{t}
}
