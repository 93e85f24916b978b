package mesh

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"grainstack/slicing/geom"
	"grainstack/slicing/sets"
)

// Together are the points that hang together by triangles, of all of them or, where only is not nil, of those with a true in it.
func (m *Mesh) Together(only []bool) sets.Sets {
	of := sets.New(len(m.Points))
	for i, t := range m.Triangles {
		if only == nil || only[i] {
			of.Join(t[0], t[1])
			of.Join(t[1], t[2])
		}
	}
	return of
}

// shells say which triangles hang together.
type shells struct {
	count int
	of    []int32 // each triangle's shell, numbered by first triangle
	first []int32 // each shell's first triangle
}

// findShells joins triangles over shared edges.
func findShells(m *Mesh, adj Adjacency, loose []looseEdge) shells {
	n := len(m.Triangles)
	set := sets.New(n)
	across := make([][]int32, (n+span-1)/span)
	run(n, span, func(from, to int) {
		for h := 3 * from; h < 3*to; h++ {
			switch twin := int(adj[h]); {
			case twin < h:
			case twin < 3*to:
				set.Join(int32(h/3), int32(twin/3))
			default:
				across[from/span] = append(across[from/span], int32(h))
			}
		}
	})
	for _, part := range across {
		for _, h := range part {
			set.Join(h/3, adj[h]/3)
		}
	}
	for _, l := range loose {
		for _, h := range l.halves[1:] {
			set.Join(l.halves[0].half()/3, h.half()/3)
		}
	}
	return numbered(set)
}

// numbered replaces each entry by its set's number.
func numbered(s sets.Sets) shells {
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
	strip int
	shell int32
	order int
	winds int
}

// plumbs are sorted by strips along X, within a strip by x, so that a triangle meets few that it does not cover.
type plumbs struct {
	all    []plumb
	bottom float64 // y of the first strip's lower edge
	perY   float64 // strips per file unit
	strips int
}

// windings counts for each of the given shells how often the others wind round it: a line goes up from the middle of its
// first triangle; each facet above that faces up counts one, each that faces down takes one off.
func (s shells) windings(m *Mesh, which []int32) []int {
	out := make([]int, len(which))
	if len(which) == 0 || s.count == 1 {
		return out
	}
	p := s.drop(m, which)
	for t := range m.Triangles {
		p.cross(m, t, s.of[t])
	}
	for _, q := range p.all {
		out[q.order] = q.winds
	}
	return out
}

// drop makes the shells' plumb lines, about as many strips as lines in a strip.
func (s shells) drop(m *Mesh, which []int32) plumbs {
	p := plumbs{all: make([]plumb, len(which)), strips: int(math.Sqrt(float64(len(which))))}
	box := m.Box()
	p.bottom = box.Min.Y
	if size := box.Size().Y; size > 0 {
		p.perY = float64(p.strips) / size
	}
	for i, shell := range which {
		a, b, c := m.Corners(int(s.first[shell]))
		from := a.Add(b).Add(c).Scale(1.0 / 3)
		p.all[i] = plumb{from: from, strip: p.strip(from.Y), shell: shell, order: i}
	}
	slices.SortFunc(p.all, func(a, b plumb) int {
		return cmp.Or(cmp.Compare(a.strip, b.strip), cmp.Compare(a.from.X, b.from.X), cmp.Compare(a.order, b.order))
	})
	return p
}

func (p plumbs) strip(y float64) int { return min(max(int((y-p.bottom)*p.perY), 0), p.strips-1) }

// cross counts triangle t for the plumb lines of other shells that meet it.
func (p plumbs) cross(m *Mesh, t int, shell int32) {
	a, b, c := m.Corners(t)
	left, right := min(a.X, b.X, c.X), max(a.X, b.X, c.X)
	for strip := p.strip(min(a.Y, b.Y, c.Y)); strip <= p.strip(max(a.Y, b.Y, c.Y)); strip++ {
		i := sort.Search(len(p.all), func(i int) bool {
			q := &p.all[i]
			return q.strip > strip || q.strip == strip && q.from.X >= left
		})
		for ; i < len(p.all) && p.all[i].strip == strip && p.all[i].from.X <= right; i++ {
			if q := &p.all[i]; q.shell != shell {
				q.winds += around(a, b, c, q.from)
			}
		}
	}
}

// around is +1 where the line up from p meets the triangle from behind, -1 from its face, 0 where it misses: how the
// triangle's outline winds round the line, seen from above. Each edge that passes the line counts by the half-open rule, so
// that a line through an edge or a corner meets exactly one of the triangles there.
func around(a, b, c, p geom.Vec) int {
	winds := passes(a, b, p) + passes(b, c, p) + passes(c, a, p)
	if winds == 0 || !above(a, b, c, p) {
		return 0
	}
	return winds
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
