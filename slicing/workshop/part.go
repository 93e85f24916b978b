package workshop

import (
	"cmp"
	"context"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// A Part is one connected piece of a layer as it is laid, held and carved.
type Part struct {
	panel.Part
	Of       int         // place among the layer's Parts, from 0: that of the whole one where a part is split
	Halves   []Half      // what the maker's joint lines left of it; none where it is whole
	Tabs     []panel.Tab // on the stand
	Held     bool        // the tabs hold it
	PanelLow float64     // lower face of its skimmed panel, mm on the stand

	Splinters []Splinter // what comes off while it is carved

	cover   *cover
	columns *columns
	through []bool                             // in which columns the hollow leaves nothing of the layer; nil for none
	loose   []bool                             // which columns are a splinter's
	hollow  func(at geom.Vec2, z float64) bool // on the stand
	slab    stack.Slab
	spots   *panel.TabPlaces
	seats   *seats

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

// partsOf are the parts of all layers with their shadows: everything that the part covers at any height, seen from above.
func partsOf(ctx context.Context, f *job.Figures) ([]Part, error) {
	var planes []stack.Plane
	for i, l := range f.Layers {
		for k := range partHeights {
			planes = append(planes, stack.Plane{Slab: i, Z: l.Bottom + (l.Top-l.Bottom)*float64(k)/(partHeights-1)})
		}
	}
	_, division := f.Made()
	cuts, err := division.Sections(ctx, planes)
	if err != nil {
		return nil, err
	}
	byLayer := make([][]Part, len(f.Layers))
	err = par.Spans(ctx, len(f.Layers), 1, func(i, _ int) {
		byLayer[i] = layerParts(f, i, cuts[i*partHeights:][:partHeights])
	})
	return slices.Concat(byLayer...), err
}

// layerParts are the parts of one layer, from its sections by part and its facets.
func layerParts(f *job.Figures, i int, cuts [][]geom.Region) []Part {
	made, division := f.Made()
	l := &f.Layers[i]
	out := make([]Part, len(l.Parts))
	for n, p := range l.Parts {
		c := newCover(flatBox(p.Box))
		out[n] = Part{
			Part: panel.Part{ID: panel.ID{Layer: l.Number, Part: n}, Turned: l.Turned, Board: l.Board.Key}, Of: n, PanelLow: l.PanelBottom,
			cover: c, columns: newColumns(c), slab: l.Slab, hollow: hollowAt(f, made, l),
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

// split divides parts as the maker asked, with the seams between the pieces; what can't be divided stays whole and is told of.
func split(parts []Part, splits []job.Split) (out []Part, seams []Seam, cautions []finding.Finding) {
	out = slices.Clone(parts)
	for _, s := range splits {
		i := slices.IndexFunc(out, func(p Part) bool { return p.ID == s.Part })
		if i < 0 {
			cautions = append(cautions, finding.Of(finding.LostSplit, finding.Place{Layer: s.Part.Layer, Name: s.Part.String()}))
			continue
		}
		left, right, err := panel.SplitPart(out[i].Shadow, s.A, s.B)
		if err != nil {
			cautions = append(cautions, finding.Of(finding.MissedSplit, finding.Place{Layer: s.Part.Layer, Name: s.Part.String()}))
			continue
		}
		other := out[i]
		out[i].Shadow, out[i].Halves = left, append(slices.Clip(other.Halves), Half{s.A, s.B, true})
		out[i].seats, other.seats = newSeats(), newSeats()
		other.Shadow, other.Halves = right, append(slices.Clip(other.Halves), Half{s.A, s.B, false})
		for _, p := range out {
			if p.Layer == other.Layer {
				other.ID.Part = max(other.ID.Part, p.ID.Part+1)
			}
		}
		out = append(out, other)
		seams = append(seams, Seam{Left: s.Part, Right: other.ID, line: s, halves: other.Halves[:len(other.Halves)-1]})
	}
	slices.SortStableFunc(out, func(a, b Part) int {
		return cmp.Or(cmp.Compare(a.Layer, b.Layer), cmp.Compare(a.ID.Part, b.ID.Part))
	})
	return out, seams, cautions
}
