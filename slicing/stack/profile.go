package stack

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A Profile is everything about a piece that depends on height alone, tabulated once so that any layer is a few look-ups.
// Volume, area and moments are exact at the tabulated heights and cubic in between, all else linear: there are 2048 steps over
// the piece's height, fewer but at least 256 where facets are many and tall, and the heights of the vertices besides where
// those are few. A layer of an organic piece is true to a millionth of its volume and a ten thousandth of its surface. Flat faces are kept apart and exact: heights
// within a millionth of the piece's extent of such a face count as its height. It is safe for concurrent use.
//
// The mesh need not be closed for a profile to be made, but only a closed one that faces outward means what the methods say.
// Shells that lie within each other or touch count as often as they cover a place.
type Profile struct {
	ladder    *ladder
	nodes     []node
	levels    []level
	tolerance float64
}

// shares is the number of shares of the triangles that are worked on each on their own and then joined in order, whatever
// the number of cores: enough to keep a few cores busy, few enough to keep the tables small.
const shares = 8

// share is the number of triangles in a share; small pieces have fewer shares.
func share(triangles int) int { return max((triangles+shares-1)/shares, pointSpan) }

// NewProfile tabulates a mesh in the frame of its stand: one pass over the triangles. It is an error when the mesh has no
// triangles, no height, or points that are no numbers.
func NewProfile(ctx context.Context, m *mesh.Mesh) (*Profile, error) {
	box, err := extent(ctx, m)
	if err != nil {
		return nil, err
	}
	p := &Profile{tolerance: flatRange(box)}
	if box.Max.Z-box.Min.Z <= p.tolerance {
		return nil, fmt.Errorf("stack: the piece has no height")
	}
	p.ladder = newLadder(m, box)
	size := share(len(m.Triangles))
	tallies := make([]*tally, (len(m.Triangles)+size-1)/size)
	err = par.Spans(ctx, len(m.Triangles), size, func(from, to int) {
		tallies[from/size] = p.tally(ctx, m, from, to)
	})
	if err != nil {
		return nil, err
	}
	all := tallies[0]
	for _, t := range tallies[1:] {
		all.add(t)
	}
	all.finish(p.ladder.z)
	p.nodes, p.levels = all.nodes, levels(all.flats, p.tolerance)
	return p, nil
}

// tally adds up the triangles [from, to).
func (p *Profile) tally(ctx context.Context, m *mesh.Mesh, from, to int) *tally {
	t := newTally(len(p.ladder.z))
	var f facet
	for i := from; i < to; i++ {
		if i%pointSpan == 0 && ctx.Err() != nil {
			return t
		}
		tri := m.Triangles[i]
		f.set(m.Points[tri[0]], m.Points[tri[1]], m.Points[tri[2]])
		if f.z[2]-f.z[0] <= p.tolerance {
			t.flats = append(t.flats, f.flat())
			continue
		}
		t.put(&f, p.ladder)
	}
	return t
}

// extent is the box of all points, looked at in parallel.
func extent(ctx context.Context, m *mesh.Mesh) (geom.Box, error) {
	if len(m.Triangles) == 0 || len(m.Points) == 0 {
		return geom.Box{}, fmt.Errorf("stack: the piece has no triangles")
	}
	k := scaledTurn(geom.NoTurn())
	low, high, err := k.bounds(ctx, m.Points)
	if err != nil {
		return geom.Box{}, err
	}
	b := geom.Box{Min: low, Max: high}
	if size := b.Size().Len(); math.IsNaN(size) || math.IsInf(size, 0) || math.IsNaN(low.Dot(high)) {
		return geom.Box{}, fmt.Errorf("stack: the piece has points that are no numbers")
	}
	return b, nil
}
