package chalk

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Region is a connected part of the surface that shall stay whole.
type Region struct {
	Points []geom.Vec // units: the corners of its facets, as far as the brush reached
	Area   float64    // units², of its facets
}

// speck is the share of the brush's disc that a region has at least: less is a facet that happened to face the viewer.
const speck = 1.0 / 16

// regions are the connected regions of facets that shall stay whole, in the order of their first facets; facets that share an
// edge are connected. It looks at ctx on its way.
func (c *Cover) regions(ctx context.Context, adj mesh.Adjacency) ([]Region, error) {
	if !c.marks.Has(KeepWhole) {
		return nil, nil
	}
	var all []Region
	g := gatherer{c: c, taken: make([]bool, len(c.Kinds)), corner: make([]int32, len(c.index.mesh.Points))}
	for f, k := range c.Kinds {
		if k != KeepWhole || g.taken[f] {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		g.number++
		if r, brush := g.gather(int32(f), adj); r.Area >= speck*math.Pi*brush*brush {
			all = append(all, r)
		}
	}
	return all, nil
}

// KeptWhole are the regions of a mesh that shall stay whole.
func (m *Marks) KeptWhole(ctx context.Context, of *mesh.Mesh, adj mesh.Adjacency) ([]Region, error) {
	if !m.Has(KeepWhole) {
		return nil, nil
	}
	c, err := NewIndex(of).Cover(ctx, m, nil)
	if err != nil {
		return nil, err
	}
	return c.regions(ctx, adj)
}

// A gatherer goes from facet to facet.
type gatherer struct {
	c      *Cover
	taken  []bool  // facets that are in a region
	corner []int32 // the region that a point has been put into
	number int32   // of the region at hand, from 1
}

// gather is the region of a facet and the narrowest brush that it was marked with.
func (g *gatherer) gather(from int32, adj mesh.Adjacency) (r Region, brush float64) {
	brush = math.Inf(1)
	queue := []int32{from}
	g.taken[from] = true
	for len(queue) > 0 {
		f := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		s := g.c.marks.strokes[g.c.by[f]-1]
		brush = min(brush, s.Radius)
		g.add(&r, f, s)
		for e := range int32(3) {
			h := adj[3*f+e]
			if h < 0 {
				continue
			}
			if o := h / 3; !g.taken[o] && g.c.Kinds[o] == KeepWhole {
				g.taken[o] = true
				queue = append(queue, o)
			}
		}
	}
	return r, brush
}

// add puts a facet into a region. A corner that the brush did not reach is drawn in to its edge.
func (g *gatherer) add(r *Region, f int32, s *stroke) {
	m := g.c.index.mesh
	a, b, c := m.Corners(int(f))
	r.Area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
	for k, p := range [3]geom.Vec{a, b, c} {
		v := m.Triangles[f][k]
		if g.corner[v] == g.number {
			continue
		}
		if at, inside := s.within(p); inside {
			g.corner[v] = g.number
			r.Points = append(r.Points, p)
		} else {
			r.Points = append(r.Points, at)
		}
	}
}

// within reports whether a point is within reach of the brush, and is else the nearest place that is.
func (s *stroke) within(p geom.Vec) (geom.Vec, bool) {
	best, least := geom.Vec{}, math.Inf(1)
	for i := range s.links {
		q := s.links[i].nearest(p)
		d := p.Sub(q)
		if far := d.Dot(d); far < least {
			best, least = q, far
		}
		if least <= s.Radius*s.Radius {
			return p, true
		}
	}
	return best.Add(p.Sub(best).Unit().Scale(s.Radius)), false
}

// Heights are how far a region reaches in a stand, mm above the floor.
func (r Region) Heights(at geom.Placement) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	row := at.Turn[2]
	for _, p := range r.Points {
		z := row[0]*p.X + row[1]*p.Y + row[2]*p.Z
		low, high = min(low, z), max(high, z)
	}
	return low*at.Scale + at.Shift.Z, high*at.Scale + at.Shift.Z
}
