package workshop

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
	"grainstack/slicing/stack"
)

// A Part is one connected piece of a layer as it is laid, held and carved.
type Part struct {
	panel.Part
	Of       int         // place among the layer's parts before joint lines, from 0: that of the whole one where a part is split
	Halves   []Half      // what the maker's joint lines left of it; none where it is whole
	Tabs     []panel.Tab // on the stand
	Held     bool        // the tabs hold it
	PanelLow float64     // lower face of its skimmed panel, mm on the stand

	Splinters []Splinter // what comes off while it is carved

	body    int // which of the layer's bodies it is of: job.Layer.Parts
	cover   *cover
	columns *columns
	through []bool                             // in which columns the hollow leaves nothing of the layer; nil for none
	loose   []bool                             // which columns are a splinter's
	hollow  func(at geom.Vec2, z float64) bool // on the stand
	slab    stack.Slab
	spots   *panel.TabPlaces
	seats   *seats

	rim  geom.Ring   // the hollow's edge round what it has cut free of a part; nil for any other part
	rims geom.Region // those round what was cut free of this one

	uneven  bool // a stretch without a tab is longer than wanted
	crowded bool // the tabs would hold it if the panel had its frame there
}

// A Half is one side of the upright plane through A and B, on the stand: the left one seen from A to B, or the right one.
type Half struct {
	A, B geom.Vec2
	Left bool
}

// partHeights is at how many heights of a layer a part's cover is known, its two faces included.
const partHeights = 9

// partsOf are the parts of the layers [from, to), counted from 0, with their shadows: everything that the part covers at any height,
// seen from above.
func partsOf(ctx context.Context, f *job.Figures, from, to int) ([]Part, error) {
	var planes []stack.Plane
	for i, l := range f.Layers[from:to] {
		for k := range partHeights {
			planes = append(planes, stack.Plane{Slab: from + i, Z: l.Bottom + (l.Top-l.Bottom)*float64(k)/(partHeights-1)})
		}
	}
	_, division := f.Made()
	cuts, err := division.Sections(ctx, planes)
	if err != nil {
		return nil, err
	}
	byLayer := make([][]Part, to-from)
	hollow := hollowings(ctx, f)
	err = par.Spans(ctx, to-from, 1, func(i, _ int) {
		parts := layerParts(f, from+i, cuts[i*partHeights:][:partHeights])
		byLayer[i] = freed(parts, func(over geom.Box2) *hollowing { return hollow(&f.Layers[from+i], over) })
	})
	return slices.Concat(byLayer...), err
}

// layerParts are the bodies of one layer as parts, from its sections by body and its facets.
func layerParts(f *job.Figures, i int, cuts [][]geom.Region) []Part {
	made, division := f.Made()
	l := &f.Layers[i]
	out := make([]Part, len(l.Parts))
	hollow := hollowAt(f, made, l)
	for n, p := range l.Parts {
		c := newCover(flatBox(p.Box))
		out[n] = Part{
			Part: panel.Part{ID: panel.ID{Layer: l.Number, Part: n}, Turned: l.Turned, Board: l.Board.Key}, Of: n, body: n, PanelLow: l.PanelBottom,
			cover: c, columns: newColumns(c), slab: l.Slab, hollow: hollow,
		}
		for k := range cuts {
			out[n].section(cuts[k][n], k)
		}
	}
	raise(f, i, out)
	for n, edges := range division.ShadowEdges(i) {
		out[n].Shadow, out[n].seats = outlineOf(edges), newSeats()
		out[n].through = out[n].pierced(f, l)
	}
	return out
}

// section adds a piece of the layer's k-th section to a part.
func (p *Part) section(g geom.Region, k int) {
	p.cover.fill(g, 1<<k)
	switch k {
	case 0:
		p.columns.face(g, p.slab.Bottom)
	case partHeights - 1:
		p.columns.face(g, p.slab.Top)
	}
}

func flatBox(b geom.Box) geom.Box2 {
	return geom.Box2{Min: geom.Vec2{X: b.Min.X, Y: b.Min.Y}, Max: geom.Vec2{X: b.Max.X, Y: b.Max.Y}}
}

// raise tells the parts' columns how high the facets are.
func raise(f *job.Figures, layer int, parts []Part) {
	made, division := f.Made()
	l, m := &f.Layers[layer], made.Placed.Mesh
	var poly []geom.Vec
	for i, t := range m.Triangles {
		part := division.Of(i, layer)
		if part < 0 {
			continue
		}
		poly = between(poly[:0], [3]geom.Vec{m.Points[t[0]].Vec(), m.Points[t[1]].Vec(), m.Points[t[2]].Vec()}, l.Bottom, l.Top)
		if len(poly) >= 3 {
			parts[part].columns.facet(poly)
		}
	}
}

// between appends the polygon that two heights leave of a triangle.
func between(out []geom.Vec, t [3]geom.Vec, low, high float64) []geom.Vec {
	if min(t[0].Z, t[1].Z, t[2].Z) >= low && max(t[0].Z, t[1].Z, t[2].Z) <= high {
		return append(out, t[:]...)
	}
	for i, a := range t {
		b := t[(i+1)%3]
		if a.Z >= low && a.Z <= high {
			out = append(out, a)
		}
		planes := [2]float64{low, high}
		if a.Z > b.Z {
			planes = [2]float64{high, low}
		}
		for _, z := range planes {
			if (a.Z < z) != (b.Z < z) && a.Z != z && b.Z != z {
				s := (z - a.Z) / (b.Z - a.Z)
				out = append(out, geom.Vec{X: a.X + (b.X-a.X)*s, Y: a.Y + (b.Y-a.Y)*s, Z: z})
			}
		}
	}
	return out
}

// hollowAt tells whether a place within a layer is hollow.
func hollowAt(f *job.Figures, st *job.Standing, l *job.Layer) func(at geom.Vec2, z float64) bool {
	switch {
	case !f.Hollowed(st, l):
		return func(geom.Vec2, float64) bool { return false }
	case f.For.Core == job.Straight:
		pocket := plane.NewInside(l.Pocket)
		return func(at geom.Vec2, z float64) bool {
			return z >= l.PocketBottom && z <= l.PocketTop && pocket.Contains(at)
		}
	}
	return func(at geom.Vec2, z float64) bool {
		p := st.Placed.Placement.Back(geom.Vec{X: at.X, Y: at.Y, Z: z})
		return st.Grid.Depth(p)*st.Stand.Scale > f.For.Wall
	}
}

// onSide reports whether a point is on the sides that earlier joint lines have left.
func onSide(p geom.Vec2, halves []Half) bool {
	for _, h := range halves {
		if (h.B.Sub(h.A).Cross(p.Sub(h.A)) >= 0) != h.Left {
			return false
		}
	}
	return true
}

// A Splinter is wood of a part that hangs on the rest by a neck too narrow to last, or by nothing once the hollow is carved right
// through the layer: it comes off while the part is carved from both sides. It is counted in with the part's wood.
type Splinter struct {
	Box    geom.Box2 // on the stand, mm
	Volume float64   // mm³
}
