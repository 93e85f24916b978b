package mesh

import (
	"cmp"
	"slices"

	"grainstack/slicing/geom"
)

// shells say which triangles hang together.
type shells struct {
	count int
	of    []int32 // each triangle's shell, numbered by first triangle
	first []int32 // each shell's first triangle
}

// findShells joins triangles over shared edges (union-find; the root of a set is its lowest number).
func findShells(m *Mesh, adj Adjacency, loose []looseEdge) shells {
	n := len(m.Triangles)
	set := make(sets, n)
	across := make([][]int32, (n+span-1)/span)
	run(n, span, func(from, to int) {
		set.reset(from, to)
		for h := 3 * from; h < 3*to; h++ {
			switch twin := int(adj[h]); {
			case twin < h:
			case twin < 3*to:
				set.join(int32(h/3), int32(twin/3))
			default:
				across[from/span] = append(across[from/span], int32(h))
			}
		}
	})
	for _, part := range across {
		for _, h := range part {
			set.join(h/3, adj[h]/3)
		}
	}
	for _, l := range loose {
		for _, h := range l.halves[1:] {
			set.join(l.halves[0].half()/3, h.half()/3)
		}
	}
	return set.number()
}

// sets are disjoint sets of triangles: each names another of its set with a lower number, or itself.
type sets []int32

func (s sets) reset(from, to int) {
	for i := from; i < to; i++ {
		s[i] = int32(i)
	}
}

func (s sets) root(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

func (s sets) join(i, j int32) {
	i, j = s.root(i), s.root(j)
	switch {
	case i < j:
		s[j] = i
	case j < i:
		s[i] = j
	}
}

// number replaces each entry by its set's number.
func (s sets) number() shells {
	out := shells{of: s}
	for i, parent := range s {
		if int(parent) == i {
			s[i] = int32(len(out.first))
			out.first = append(out.first, int32(i))
			continue
		}
		s[i] = s[parent] // a lower triangle, numbered already
	}
	out.count = len(out.first)
	return out
}

// volumes are the shells' signed volumes, each about its own first point, so that small ones far away lose no digits.
func (s shells) volumes(m *Mesh) []float64 {
	out := make([]float64, s.count)
	for t, shell := range s.of {
		o := m.Points[m.Triangles[s.first[shell]][0]].Vec()
		a, b, c := m.Corners(t)
		out[shell] += a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o))) / 6
	}
	return out
}

// A plumb is a line upward from a point of a shell, and how often the other shells wind round that point.
type plumb struct {
	from  geom.Vec
	shell int32
	order int
	winds int
}

// windings counts for each of the given shells how often the others wind round it: a line goes up from the middle of its
// first triangle; each facet above that faces up counts one, each that faces down takes one off.
func (s shells) windings(m *Mesh, which []int32) []int {
	plumbs := make([]plumb, len(which))
	for i, shell := range which {
		a, b, c := m.Corners(int(s.first[shell]))
		plumbs[i] = plumb{from: a.Add(b).Add(c).Scale(1.0 / 3), shell: shell, order: i}
	}
	slices.SortFunc(plumbs, func(a, b plumb) int {
		return cmp.Or(cmp.Compare(a.from.X, b.from.X), cmp.Compare(a.order, b.order))
	})
	if len(plumbs) > 0 && s.count > 1 {
		for t := range m.Triangles {
			s.cross(m, t, plumbs)
		}
	}
	out := make([]int, len(which))
	for _, p := range plumbs {
		out[p.order] = p.winds
	}
	return out
}

// cross counts triangle t for the plumb lines that meet it.
func (s shells) cross(m *Mesh, t int, plumbs []plumb) {
	a, b, c := m.Corners(t)
	left, right := min(a.X, b.X, c.X), max(a.X, b.X, c.X)
	i, _ := slices.BinarySearchFunc(plumbs, left, func(p plumb, x float64) int { return cmp.Compare(p.from.X, x) })
	for ; i < len(plumbs) && plumbs[i].from.X <= right; i++ {
		p := &plumbs[i]
		if p.shell == s.of[t] {
			continue
		}
		// How the triangle's outline winds round the line, seen from above: each edge that passes it counts by the half-open
		// rule, so that a line through an edge or a corner meets exactly one of the triangles there.
		winds := passes(a, b, p.from) + passes(b, c, p.from) + passes(c, a, p.from)
		if winds != 0 && above(a, b, c, p.from) {
			p.winds += winds
		}
	}
}

// passes is +1 where the edge passes right of p going up, -1 going down, 0 where it does not; the two directions of an edge
// cancel to the bit.
func passes(a, b, p geom.Vec) int {
	up := 1
	if a.Y > b.Y {
		a, b, up = b, a, -1
	}
	if p.Y < a.Y || p.Y >= b.Y {
		return 0
	}
	if (b.X-a.X)*(p.Y-a.Y) > (p.X-a.X)*(b.Y-a.Y) {
		return up
	}
	return 0
}

// above reports whether the plane of a, b, c lies above p; it is not upright.
func above(a, b, c, p geom.Vec) bool {
	n := b.Sub(a).Cross(c.Sub(a))
	d := n.Dot(p.Sub(a)) // positive on the side to which n points
	return d < 0 == (n.Z > 0)
}
