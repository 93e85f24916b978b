package mesh

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// An Adjacency has three entries a triangle: entry 3t+e is 3t'+e', the same edge seen from the triangle on its other side,
// where edge e of a triangle runs from corner e to corner (e+1)%3. It is -1 where the edge is open or has no clean partner:
// two triangles that run along it the same way, or three and more that do not pair up. Where several solids touch along an
// edge, the triangles that bound the same wedge of wood are partners.
type Adjacency []int32

// Adjacency finds every triangle's neighbours by sorting the edges by their lower-numbered point.
func (m *Mesh) Adjacency() Adjacency { return m.adjacency(m.pairWedges) }

// Simple is Adjacency with -1 wherever more than two triangles share an edge.
func (m *Mesh) Simple() Adjacency { return m.adjacency(func(int32, []edge, Adjacency) {}) }

func (m *Mesh) adjacency(many func(low int32, group []edge, adj Adjacency)) Adjacency {
	adj := make(Adjacency, 3*len(m.Triangles))
	e := sortEdges(m, nil)
	run(len(m.Points), span, func(from, to int) {
		for p := from; p < to; p++ {
			e.groups(int32(p), func(group []edge) { pair(int32(p), group, adj, many) })
		}
	})
	return adj
}

// pair writes the partners of all half-edges of one edge; many does so where there are more than three.
func pair(low int32, group []edge, adj Adjacency, many func(low int32, group []edge, adj Adjacency)) {
	if len(group) == 2 && group[0].up() != group[1].up() {
		a, b := group[0].half(), group[1].half()
		adj[a], adj[b] = b, a
		return
	}
	for _, g := range group {
		adj[g.half()] = -1
	}
	if len(group) > 3 {
		many(low, group, adj)
	}
}

// pairWedges pairs the half-edges of an edge that several solids share. Going round the edge, the wood lies between a
// triangle that runs down the edge and the next that runs up; wedges within wedges pair up like brackets. Where triangles lie
// on one another, the wedge that ends comes before the wedge that begins.
func (m *Mesh) pairWedges(low int32, group []edge, adj Adjacency) {
	type leaf struct {
		angle float64
		edge
	}
	o := m.Points[low].Vec()
	axis := m.Points[group[0].high()].Vec().Sub(o).Unit()
	u := axis.Cross(geom.Vec{X: 1})
	if u.Len() < 0.5 {
		u = axis.Cross(geom.Vec{Y: 1})
	}
	w := axis.Cross(u)
	leaves := make([]leaf, len(group))
	ups := 0
	for i, g := range group {
		h := g.half()
		r := m.Points[m.Triangles[h/3][(h+2)%3]].Vec().Sub(o)
		leaves[i] = leaf{math.Atan2(r.Dot(w), r.Dot(u)), g}
		if g.up() {
			ups++
		}
	}
	if 2*ups != len(group) {
		return
	}
	slices.SortStableFunc(leaves, func(a, b leaf) int {
		switch {
		case a.angle != b.angle:
			return compare(a.angle < b.angle)
		case a.up() != b.up():
			return compare(a.up())
		}
		return 0
	})
	var begun []edge
	for i := range 2 * len(leaves) {
		l := leaves[i%len(leaves)]
		switch {
		case !l.up() && i < len(leaves):
			begun = append(begun, l.edge)
		case l.up() && len(begun) > 0 && adj[l.half()] < 0:
			a, b := l.half(), begun[len(begun)-1].half()
			adj[a], adj[b] = b, a
			begun = begun[:len(begun)-1]
		}
	}
}

func compare(less bool) int {
	if less {
		return -1
	}
	return 1
}

// An edge is one triangle's side of an edge, in 64 bits so that sorting is quick: the higher-numbered point, whether the
// triangle runs from there down to the lower one or up, and the place in an Adjacency.
type edge uint64

func newEdge(high int32, up bool, half int32) edge {
	var bit edge
	if up {
		bit = 1
	}
	return edge(high)<<33 | bit<<32 | edge(half)
}

func (e edge) high() int32 { return int32(e >> 33) }
func (e edge) up() bool    { return e>>32&1 == 1 }
func (e edge) half() int32 { return int32(uint32(e)) }

// edges are all half-edges, sorted by their lower-numbered point.
type edges struct {
	start []int32 // of each point's edges; one more than points
	all   []edge
}

// sortEdges lists the half-edges by counting sort; with an adjacency it takes only one of each pair.
func sortEdges(m *Mesh, adj Adjacency) edges {
	start := make([]int32, len(m.Points)+2)
	count := start[2:]
	if adj == nil {
		for _, c := range m.Triangles {
			count[min(c[0], c[1])]++
			count[min(c[1], c[2])]++
			count[min(c[2], c[0])]++
		}
	} else {
		for t, c := range m.Triangles {
			for k := range c {
				if h := int32(3*t + k); wanted(adj, h) {
					count[min(c[k], c[next(k)])]++
				}
			}
		}
	}
	for p := 2; p < len(start); p++ {
		start[p] += start[p-1]
	}
	all := make([]edge, start[len(start)-1])
	at := start[1:]
	put := func(a, b, h int32) {
		low := min(a, b)
		all[at[low]] = newEdge(max(a, b), a < b, h)
		at[low]++
	}
	for t, c := range m.Triangles {
		for k := range c {
			if h := int32(3*t + k); wanted(adj, h) {
				put(c[k], c[next(k)], h)
			}
		}
	}
	return edges{start: start[:len(m.Points)+1], all: all}
}

// wanted reports whether half-edge h is to be listed: the lower of a pair, or one without partner.
func wanted(adj Adjacency, h int32) bool { return adj == nil || adj[h] < 0 || adj[h] > h }

// next is the corner after corner k.
func next(k int) int {
	if k == 2 {
		return 0
	}
	return k + 1
}

// groups calls visit for each edge from point low to a higher-numbered one, with all half-edges that lie on it.
func (e edges) groups(low int32, visit func(group []edge)) {
	of := e.all[e.start[low]:e.start[low+1]]
	if len(of) > 24 {
		slices.Sort(of)
	} else {
		for i := 1; i < len(of); i++ {
			for j := i; j > 0 && of[j] < of[j-1]; j-- {
				of[j], of[j-1] = of[j-1], of[j]
			}
		}
	}
	for len(of) > 0 {
		n := 1
		for n < len(of) && of[n].high() == of[0].high() {
			n++
		}
		visit(of[:n])
		of = of[n:]
	}
}
