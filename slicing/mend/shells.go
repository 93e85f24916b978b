package mend

import (
	"context"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sets"
)

// groups say which triangles hang together over edges, and which face against the first of their group.
type groups struct {
	of      []int32
	against []bool
	first   []int32
	twisted int // edges where the facets cannot be made to agree
}

// groupsOf joins facets over edges: over clean ones as they are, over edges of two facets that run the same way with one
// of them turned, over crowded edges without regard to sides.
func groupsOf(ctx context.Context, adj mesh.Adjacency, sides []side) (groups, error) {
	s := sets.NewSided(len(adj) / 3)
	for h, twin := range adj {
		if h&(1<<18-1) == 0 && ctx.Err() != nil {
			return groups{}, ctx.Err()
		}
		if int(twin) > h {
			s.Join(int32(h/3), twin/3, false)
		}
	}
	var g groups
	edgeGroups(sides, func(on []side) {
		if len(on) == 2 && !s.Join(on[0].half/3, on[1].half/3, on[0].up == on[1].up) {
			g.twisted++
		}
	})
	edgeGroups(sides, func(on []side) {
		if len(on) > 2 {
			for _, o := range on[1:] {
				s.Join(on[0].half/3, o.half/3, on[0].up == o.up)
			}
		}
	})
	g.of, g.against = s.Flat()
	number := make([]int32, 0, 16)
	for i, p := range g.of {
		if int(p) == i {
			number = append(number, int32(i))
		}
	}
	g.first = number
	at := make(map[int32]int32, len(number))
	for n, i := range number {
		at[i] = int32(n)
	}
	last, lastN := int32(-1), int32(0)
	for i, p := range g.of {
		if p != last {
			last, lastN = p, at[p]
		}
		g.of[i] = lastN
	}
	return g, nil
}

// minority says of each group whether the greater part of its area faces against its first facet, and lists the facets
// that face against that greater part.
func (g *groups) minority(m *mesh.Mesh) (mostAgainst []bool, odd []int32) {
	some := false
	for _, a := range g.against {
		some = some || a
	}
	mostAgainst = make([]bool, len(g.first))
	if !some {
		return mostAgainst, nil
	}
	balance := make([]float64, len(g.first))
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		w := b.Sub(a).Cross(c.Sub(a)).Len()
		if g.against[i] {
			w = -w
		}
		balance[g.of[i]] += w
	}
	for i, w := range balance {
		mostAgainst[i] = w < 0
	}
	for i, a := range g.against {
		if a != mostAgainst[g.of[i]] {
			odd = append(odd, int32(i))
		}
	}
	return mostAgainst, odd
}

// turnedOver is m with some facets facing the other way.
func turnedOver(m *mesh.Mesh, facets []int32) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points, Triangles: append([]mesh.Triangle(nil), m.Triangles...)}
	for _, i := range facets {
		t := &out.Triangles[i]
		t[1], t[2] = t[2], t[1]
	}
	return out
}

// measureShells measures the groups of a mesh whose facets agree; fans over the rims close what is open.
func measureShells(ctx context.Context, m *mesh.Mesh, g *groups, rims []rim) ([]Shell, error) {
	out := make([]Shell, len(g.first))
	boxes := make([]boxtree.Box, len(g.first))
	for i := range out {
		out[i].Closed = true
		boxes[i] = boxtree.EmptyBox()
	}
	origin := func(s int32) geom.Vec { return m.Points[m.Triangles[g.first[s]][0]].Vec() }
	last, o := int32(-1), geom.Vec{}
	for i, s := range g.of {
		if i&(1<<16-1) == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if s != last {
			last, o = s, origin(s)
		}
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		sh := &out[s]
		sh.Triangles++
		sh.Area += n.Len() / 2
		sh.Volume += a.Sub(o).Dot(n) / 6
		for _, v := range m.Triangles[i] {
			boxes[s].Add(m.Points[v])
		}
	}
	for _, r := range rims {
		s := g.of[r.halves[0]/3]
		out[s].Closed = false
		out[s].Volume += fanVolume(m, r.points, origin(s))
	}
	most := 0.0
	for i := range out {
		out[i].Box = geom.Box{Min: boxes[i].Min.Vec(), Max: boxes[i].Max.Vec()}
		out[i].Inward = out[i].Volume < 0
		most = max(most, abs(out[i].Volume))
	}
	for i := range out {
		if most > 0 {
			out[i].Share = abs(out[i].Volume) / most
		}
	}
	return out, nil
}

// fanVolume is the volume between o and a fan from the middle of a rim that closes the hole.
func fanVolume(m *mesh.Mesh, points []int32, o geom.Vec) float64 {
	mid := geom.Vec{}
	for _, p := range points {
		mid = mid.Add(m.Points[p].Vec().Sub(o).Scale(1 / float64(len(points))))
	}
	sum := 0.0
	for i, p := range points {
		a, b := m.Points[p].Vec().Sub(o), m.Points[points[(i+1)%len(points)]].Vec().Sub(o)
		sum += mid.Dot(b.Cross(a))
	}
	return sum / 6
}

// around is how often the other shells wind round shell s: the winding number a hair outside its largest facet among some.
func around(t *windingTree, g *groups, shells []Shell, s int32, tol float64) float64 {
	return windingOutside(t, largestFacet(t.Mesh, g, s, min(shells[s].Triangles, 4096)), shells[s].Volume < 0, tol)
}

// bitsOfShell is how many facets of a small shell are asked whether they lie in the wood of others.
const bitsOfShell = 64

// runsThrough reports whether closed shell s sticks out of the wood of another: some of its facets lie in it, some don't.
func runsThrough(t *windingTree, g *groups, shells []Shell, s int32, tol float64) bool {
	every := max(1, shells[s].Triangles/bitsOfShell)
	in, out, seen := false, false, 0
	for i := int(g.first[s]); i < len(g.of) && seen < shells[s].Triangles && !(in && out); i++ {
		if g.of[i] != s {
			continue
		}
		if seen++; seen%every != 0 {
			continue
		}
		if windingOutside(t, int32(i), shells[s].Volume < 0, tol) > 0.5 {
			in = true
		} else {
			out = true
		}
	}
	return in && out
}

// windingOutside is the winding number a hair outside a facet, on its other side where it faces inward.
func windingOutside(t *windingTree, facet int32, inward bool, tol float64) float64 {
	a, b, c := t.Mesh.Corners(int(facet))
	n := b.Sub(a).Cross(c.Sub(a)).Unit()
	if inward {
		n = n.Scale(-1)
	}
	return t.winding(a.Add(b).Add(c).Scale(1.0 / 3).Add(n.Scale(2 * tol)))
}

// largestFacet is the largest of the first few facets of a shell.
func largestFacet(m *mesh.Mesh, g *groups, s int32, few int) int32 {
	best, most, seen := g.first[s], -1.0, 0
	for i := int(g.first[s]); i < len(g.of) && seen < few; i++ {
		if g.of[i] != s {
			continue
		}
		seen++
		a, b, c := m.Corners(i)
		if w := b.Sub(a).Cross(c.Sub(a)).Len(); w > most {
			best, most = int32(i), w
		}
	}
	return best
}

// A Shell is a part of the surface that hangs together over edges.
type Shell struct {
	Triangles int
	Volume    float64 // negative when it faces inward; an open one counts as closed by fans over its rims
	Area      float64
	Box       geom.Box
	Closed    bool
	Inward    bool    // faces inward
	Cavity    bool    // faces inward and has wood all round: a hollow
	Share     float64 // of the largest shell's volume
}
