package export

import (
	"context"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
)

// A bench makes one layer after the other. It is scratch of one goroutine.
type bench struct {
	*cut
	k       int // the layer, from 0
	z       [2]float64
	out     *mesh.Mesh
	whose   []int32          // per triangle of out the part that it belongs to, unknown where that is not known yet
	local   []int32          // per point of the piece one more than its number in out, 0 for none
	used    []int32          // points whose local is set
	cuts    map[uint64]int32 // points where edges are cut, by edge and plane
	same    [][2]int32       // points of out that lie in one place
	rims    [2][]rimEdge     // sides of the skin on the lower and the upper plane
	tetra   tetra
	rimming rimming
}

// The planes of a layer.
const (
	lower = 0
	upper = 1
)

// A rimEdge is a side of the open skin on a plane, as its triangle runs along it.
type rimEdge struct{ from, to, part int32 }

// unknown is whose the hollow's skin is until the faces beside it are known.
const unknown = -1

func newBench(c *cut) *bench {
	return &bench{cut: c, local: make([]int32, len(c.mesh.Points)), cuts: map[uint64]int32{}}
}

// layer makes the solid of one of the wanted layers.
func (b *bench) layer(ctx context.Context, i int) (LayerSolid, error) {
	b.begin(i)
	for _, t := range b.items[b.start[i]:b.start[i+1]] {
		b.facet(t)
		b.belong(int32(b.parts.Of(int(t), b.k)))
	}
	b.merge()
	if l := &b.f.Layers[b.k]; !l.Capped {
		switch {
		case b.hollow != nil:
			if err := b.carved(ctx); err != nil {
				return LayerSolid{}, err
			}
		case b.f.For.Wall > 0 && b.f.For.Core == job.Straight:
			b.pocket(l)
		}
	}
	b.belong(unknown)
	b.close(lower)
	b.close(upper)
	return b.solid(), nil
}

func (b *bench) begin(i int) {
	for _, p := range b.used {
		b.local[p] = 0
	}
	b.used = b.used[:0]
	clear(b.cuts)
	b.same, b.whose = b.same[:0], nil
	b.rims[lower], b.rims[upper] = b.rims[lower][:0], b.rims[upper][:0]
	b.k = b.layers[i]
	b.z[lower], b.z[upper] = b.between(b.k)
	n := int(b.start[i+1] - b.start[i])
	b.out = &mesh.Mesh{Points: make([]mesh.Point, 0, n*5/8+64), Triangles: make([]mesh.Triangle, 0, n*9/8+64)}
}

// plane is the class of the lower or upper plane.
func (b *bench) plane(side int) int32 { return int32(2*b.k - 1 + 2*side) }

// point is the number in out of a point of the piece; one on a joint is put exactly there.
func (b *bench) point(p int32) int32 {
	if n := b.local[p]; n > 0 {
		return n - 1
	}
	n := int32(len(b.out.Points))
	v := b.mesh.Points[p]
	if c := b.parts.Class(p); c&1 == 1 {
		v[2] = float32(b.joints[c/2])
	}
	b.out.Points = append(b.out.Points, v)
	b.local[p] = n + 1
	b.used = append(b.used, p)
	return n
}

// crossing is the number in out of the point where an edge of the piece meets a plane of the layer.
func (b *bench) crossing(i, j int32, side int) int32 {
	key := uint64(min(i, j))<<33 | uint64(max(i, j))<<1 | uint64(side)
	if n, ok := b.cuts[key]; ok {
		return n
	}
	n := int32(len(b.out.Points))
	b.out.Points = append(b.out.Points, b.where(i, j, b.z[side]))
	b.cuts[key] = n
	return n
}

// facet adds what of a triangle of the piece lies in the layer.
func (b *bench) facet(i int32) {
	t := b.mesh.Triangles[i]
	lo, hi := b.plane(lower), b.plane(upper)
	p, q, r := b.parts.Class(t[0]), b.parts.Class(t[1]), b.parts.Class(t[2])
	if min(p, q, r) > lo && max(p, q, r) < hi {
		b.out.Triangles = append(b.out.Triangles, mesh.Triangle{b.point(t[0]), b.point(t[1]), b.point(t[2])})
		return
	}
	var poly [8]corner
	n := 0
	for e := range int32(3) {
		a, d := t[e], t[(e+1)%3]
		ca, cd := b.parts.Class(a), b.parts.Class(d)
		if lo <= ca && ca <= hi {
			poly[n] = corner{b.point(a), e, ca}
			n++
		}
		first, last := lower, upper // in the order in which the edge meets them
		if ca > cd {
			first, last = upper, lower
		}
		for _, s := range [2]int{first, last} {
			if c := b.plane(s); min(ca, cd) < c && c < max(ca, cd) {
				poly[n] = corner{b.crossing(a, d, s), -1, c}
				n++
			}
		}
	}
	b.fan(poly[:n])
	for e := range poly[:n] {
		b.rim(i, poly[e], poly[(e+1)%n])
	}
}

// A corner of what is left of a triangle.
type corner struct {
	point  int32 // in out
	number int32 // of the triangle's corner that it is, -1 for a crossing
	class  int32
}

// fan cuts a convex polygon into triangles.
func (b *bench) fan(poly []corner) {
	for k := 2; k < len(poly); k++ {
		b.out.Triangles = append(b.out.Triangles, mesh.Triangle{poly[0].point, poly[k-1].point, poly[k].point})
	}
}

// rim notes a side of what is left of triangle i that lies on a plane and has no partner in the layer. Sides that rounding
// has shrunk to a point are noted as such.
func (b *bench) rim(i int32, p, q corner) {
	if p.class != q.class || p.class&1 == 0 {
		return
	}
	side := lower
	if p.class == b.plane(upper) {
		side = upper
	}
	if b.out.Points[p.point] == b.out.Points[q.point] {
		b.same = append(b.same, [2]int32{p.point, q.point})
	}
	if p.number >= 0 && q.number >= 0 && b.partnered(3*i+p.number, p.class, side) {
		return
	}
	b.rims[side] = append(b.rims[side], rimEdge{p.point, q.point, int32(b.parts.Of(int(i), b.k))})
}

// partnered reports whether the triangle across an edge that lies on a plane is on the layer's side of it, and the same part's.
func (b *bench) partnered(half, class int32, side int) bool {
	twin := b.st.Piece.Adjacency[half]
	if twin < 0 {
		return false
	}
	if b.parts.Of(int(half/3), b.k) != b.parts.Of(int(twin/3), b.k) {
		return false
	}
	third := b.parts.Class(b.mesh.Triangles[twin/3][(twin+2)%3])
	if side == lower {
		return third > class
	}
	return third < class
}

// merge makes one of points that lie in one place at the two ends of a side, and drops the triangles and sides that were
// between them.
func (b *bench) merge() {
	if len(b.same) == 0 {
		return
	}
	to := make(map[int32]int32, 2*len(b.same))
	find := func(p int32) int32 {
		for {
			q, ok := to[p]
			if !ok {
				return p
			}
			p = q
		}
	}
	for _, s := range b.same {
		p, q := find(s[0]), find(s[1])
		if p != q {
			to[max(p, q)] = min(p, q)
		}
	}
	kept, whose := b.out.Triangles[:0], b.whose[:0]
	for i, t := range b.out.Triangles {
		for k := range t {
			if _, ok := to[t[k]]; ok {
				t[k] = find(t[k])
			}
		}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			kept, whose = append(kept, t), append(whose, b.whose[i])
		}
	}
	b.out.Triangles, b.whose = kept, whose
	for s := range b.rims {
		rims := b.rims[s][:0]
		for _, e := range b.rims[s] {
			if e.from, e.to = find(e.from), find(e.to); e.from != e.to {
				rims = append(rims, e)
			}
		}
		b.rims[s] = rims
	}
}
