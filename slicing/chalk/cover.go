package chalk

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// blockFacets is the number of facets that share a box: as few as keep the boxes of a million facets in a processor's cache.
const blockFacets = 64

// An Index finds the facets of a mesh that lie near a stroke. It needs neighbours to have neighbouring numbers, as pieces have
// them, to be quick; it is right in any order. It never changes.
type Index struct {
	mesh   *mesh.Mesh
	blocks []box // of blockFacets facets each
}

// NewIndex goes over the facets once.
func NewIndex(m *mesh.Mesh) *Index {
	x := &Index{mesh: m, blocks: make([]box, (len(m.Triangles)+blockFacets-1)/blockFacets)}
	_ = par.Spans(context.Background(), len(x.blocks), 64, func(from, to int) { // without a deadline it has no error
		for i := from; i < to; i++ {
			b := emptyBox()
			for _, t := range m.Triangles[i*blockFacets : min((i+1)*blockFacets, len(m.Triangles))] {
				for _, v := range t {
					for k, c := range m.Points[v] {
						b.min[k], b.max[k] = min(b.min[k], c), max(b.max[k], c)
					}
				}
			}
			x.blocks[i] = b
		}
	})
	return x
}

// A Cover is what marks come to on a mesh. It never changes.
type Cover struct {
	Kinds []Kind // one for each facet; must not be changed

	index *Index
	marks *Marks
	by    []uint16 // the stroke that counts, from 1; 0 where none does
}

// Cover marks the facets. was may be an earlier cover of the same index: where its strokes are the first of m's, only those
// that have come since are gone over. It looks at ctx on its way.
func (x *Index) Cover(ctx context.Context, m *Marks, was *Cover) (*Cover, error) {
	c := &Cover{index: x, marks: m}
	if m == nil {
		m = &Marks{}
	}
	done := 0
	if was != nil && was.index == x && was.marks != nil && len(was.marks.strokes) <= len(m.strokes) &&
		slices.Equal(was.marks.strokes, m.strokes[:len(was.marks.strokes)]) {
		done = len(was.marks.strokes)
		if done == len(m.strokes) {
			return was, ctx.Err()
		}
		c.Kinds, c.by = slices.Clone(was.Kinds), slices.Clone(was.by)
	} else {
		n := len(x.mesh.Triangles)
		c.Kinds, c.by = make([]Kind, n), make([]uint16, n)
	}
	err := par.Spans(ctx, len(x.blocks), 128, func(from, to int) {
		var near []*link
		for i := from; i < to; i++ {
			near = c.block(i, m.strokes, done, near[:0])
		}
	})
	return c, err
}

// On is the kind of every facet of a mesh, for a single use; who asks more than once keeps an Index.
func (m *Marks) On(of *mesh.Mesh) []Kind {
	if m.Empty() {
		return make([]Kind, len(of.Triangles))
	}
	c, _ := NewIndex(of).Cover(context.Background(), m, nil) // without a deadline it has no error
	return c.Kinds
}

// block marks one block's facets with strokes[done:]; near is scratch memory.
func (c *Cover) block(i int, strokes []*stroke, done int, near []*link) []*link {
	x := c.index
	first, last := i*blockFacets, min((i+1)*blockFacets, len(x.mesh.Triangles))
	var settled uint64 // a bit for each facet that has got its mark
	for k := len(strokes) - 1; k >= done; k-- {
		s := strokes[k]
		if !s.box.touches(&x.blocks[i]) {
			continue
		}
		near = near[:0]
		for l := range s.links {
			if s.links[l].box.touches(&x.blocks[i]) {
				near = append(near, &s.links[l])
			}
		}
		if len(near) == 0 {
			continue
		}
		for f := first; f < last; f++ {
			if bit := uint64(1) << (f - first); settled&bit == 0 && s.covers(x.mesh, f, near) {
				settled |= bit
				c.Kinds[f], c.by[f] = s.Kind, uint16(k+1)
			}
		}
	}
	return near
}

// averted is the cosine beyond which a facet faces away from the viewer: ten degrees more than a right angle, since the
// facets of a scan lie a few degrees off the surface that is seen.
const averted = 0.17

// covers reports whether a facet lies under the brush; near are the stroke's links that may reach it.
func (s *stroke) covers(m *mesh.Mesh, facet int, near []*link) bool {
	a, b, c := m.Corners(facet)
	n := b.Sub(a).Cross(c.Sub(a))
	if d := n.Dot(s.Sight); d > 0 && d*d > averted*averted*n.Dot(n)*s.Sight.Dot(s.Sight) {
		return false
	}
	middle := a.Add(b).Add(c).Scale(1.0 / 3)
	for _, l := range near {
		if l.distance2(middle) <= s.Radius*s.Radius {
			return true
		}
	}
	if r := s.Radius * s.Radius; a.Sub(b).Dot(a.Sub(b)) <= r && b.Sub(c).Dot(b.Sub(c)) <= r && c.Sub(a).Dot(c.Sub(a)) <= r {
		return false
	}
	for _, l := range near {
		if over(l.to, a, b, c, n, s.Radius/8) {
			return true
		}
	}
	return false
}

// distance2 is the squared distance of a point from the link.
func (l *link) distance2(p geom.Vec) float64 {
	d := p.Sub(l.nearest(p))
	return d.Dot(d)
}

// nearest is the link's point that is nearest to p.
func (l *link) nearest(p geom.Vec) geom.Vec {
	way := l.to.Sub(l.from)
	n := way.Dot(way)
	if n == 0 {
		return l.from
	}
	t := p.Sub(l.from).Dot(way) / n
	return l.from.Add(way.Scale(max(0, min(1, t))))
}

// over reports whether p lies on a triangle of normal n, or above it by no more than slack.
func over(p, a, b, c, n geom.Vec, slack float64) bool {
	long := n.Len()
	if long == 0 || math.Abs(n.Dot(p.Sub(a))) > slack*long {
		return false
	}
	in := func(u, v geom.Vec) bool { return v.Sub(u).Cross(p.Sub(u)).Dot(n) >= 0 }
	return in(a, b) && in(b, c) && in(c, a)
}
