package job

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
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

	cover   *cover
	columns *columns
	hollow  func(at geom.Vec2, z float64) bool // on the stand
	slab    stack.Slab
	spots   *panel.TabPlaces
	seats   *seats

	crowded bool // the tabs would hold it if the panel had its frame there
}

// A Half is one side of the upright plane through A and B, on the stand: the left one seen from A to B, or the right one.
type Half struct {
	A, B geom.Vec2
	Left bool
}

// partHeights is how many sections of a layer its parts' shadows are made of, its two faces included.
const partHeights = 9

// partsOf are the parts of all layers with their shadows: everything that the part covers at any height, seen from above.
func partsOf(ctx context.Context, st *Standing, f *Figures) ([]Part, error) {
	var planes []float64
	for _, l := range f.Layers {
		for k := range partHeights {
			planes = append(planes, l.Bottom+(l.Top-l.Bottom)*float64(k)/(partHeights-1))
		}
		wide, _ := st.Profile.Widest(l.Bottom, l.Top)
		planes = append(planes, wide)
	}
	above, err := st.Slicer.SectionsAbove(ctx, planes)
	if err != nil {
		return nil, err
	}
	below, err := st.Slicer.SectionsBelow(ctx, planes)
	if err != nil {
		return nil, err
	}
	byLayer := make([][]Part, len(f.Layers))
	const n = partHeights + 1
	err = par.Spans(ctx, len(f.Layers), 1, func(i, _ int) {
		cuts := make([]geom.Region, n)
		for k := range cuts {
			cuts[k] = above[i*n+k].Region
			if k == partHeights-1 || k == partHeights && below[i*n+k].Region.Area() > cuts[k].Area() {
				cuts[k] = below[i*n+k].Region
			}
		}
		byLayer[i] = layerParts(st, f, &f.Layers[i], cuts)
	})
	return slices.Concat(byLayer...), err
}

// layerParts shares the sections of a layer among its parts, and its facets, which fill in between the sections.
func layerParts(st *Standing, f *Figures, l *Layer, cuts []geom.Region) []Part {
	boxes := make([]geom.Box2, len(l.Parts))
	out := make([]Part, len(l.Parts))
	for i, p := range l.Parts {
		boxes[i] = flatBox(p.Box)
		out[i] = Part{Part: panel.Part{ID: panel.ID{Layer: l.Number, Part: i}, Turned: l.Turned, Board: l.Board.Key}, Of: i, PanelLow: l.PanelBottom, cover: newCover(boxes[i].Grow(2 * f.For.Shop.Allowance)), slab: l.Slab, hollow: f.hollowAt(st, l)}
		out[i].columns = newColumns(out[i].cover)
	}
	if len(out) == 0 {
		return nil
	}
	whose := sectionsOf(boxes, cuts)
	for k, cut := range cuts {
		if len(out) == 1 {
			out[0].section(cut, k)
			continue
		}
		for i, piece := range stack.SplitRegion(cut) {
			out[whose[k][i]].section(piece, k)
		}
	}
	coverFacets(st, l, boxes, out)
	for i := range out {
		out[i].Shadow, out[i].seats = out[i].cover.outline(), newSeats()
	}
	return slices.DeleteFunc(out, func(p Part) bool { return !(p.Shadow.Area() > 0) })
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

// sectionsOf tells for each piece of each section which part it belongs to: pieces of neighbouring sections that overlap
// hang together, and what hangs together is the part with the box most like its own.
func sectionsOf(boxes []geom.Box2, cuts []geom.Region) [][]int {
	whose := make([][]int, len(cuts))
	if len(boxes) < 2 {
		return whose
	}
	type piece struct {
		region geom.Region
		box    geom.Box2
		group  int
	}
	var all []piece
	rows := make([][2]int, len(cuts))
	var groups []geom.Box2
	for k, cut := range cuts {
		rows[k][0] = len(all)
		for _, g := range stack.SplitRegion(cut) {
			all = append(all, piece{g, g.Box(), len(groups)})
			groups = append(groups, g.Box())
		}
		rows[k][1] = len(all)
		if k == 0 || k == partHeights {
			continue
		}
		for i := rows[k][0]; i < rows[k][1]; i++ {
			for j := rows[k-1][0]; j < rows[k-1][1]; j++ {
				from, to := all[i].group, all[j].group
				if from == to || !overlap(all[i].region, all[j].region, all[i].box, all[j].box) {
					continue
				}
				groups[to] = groups[to].Union(groups[from])
				for m := range all {
					if all[m].group == from {
						all[m].group = to
					}
				}
			}
		}
	}
	for k := range cuts {
		for i := rows[k][0]; i < rows[k][1]; i++ {
			whose[k] = append(whose[k], nearestBox(boxes, groups[all[i].group]))
		}
	}
	return whose
}

// overlap reports whether two connected pieces of neighbouring sections have a point in common.
func overlap(a, b geom.Region, boxA, boxB geom.Box2) bool {
	if boxA.Max.X < boxB.Min.X || boxB.Max.X < boxA.Min.X || boxA.Max.Y < boxB.Min.Y || boxB.Max.Y < boxA.Min.Y {
		return false
	}
	for _, pair := range [2][2]geom.Region{{a, b}, {b, a}} {
		ring := pair[0][0]
		for i := 0; i < len(ring); i += max(1, len(ring)/64) {
			if pair[1].Contains(ring[i]) {
				return true
			}
		}
	}
	return false
}

// nearestBox is the box that differs least from another.
func nearestBox(boxes []geom.Box2, b geom.Box2) int {
	best, least := 0, math.Inf(1)
	for i, c := range boxes {
		d := math.Abs(c.Min.X-b.Min.X) + math.Abs(c.Min.Y-b.Min.Y) + math.Abs(c.Max.X-b.Max.X) + math.Abs(c.Max.Y-b.Max.Y)
		if d < least {
			best, least = i, d
		}
	}
	return best
}

// coverFacets adds what the facets cover between the sections: tips and edges that no section meets. It also tells the parts'
// columns how high the facets are.
func coverFacets(st *Standing, l *Layer, boxes []geom.Box2, parts []Part) {
	const facets = 1 << 15
	m := st.Placed.Mesh
	low, high := float32(l.Bottom), float32(l.Top)
	var poly []geom.Vec
	for _, t := range m.Triangles {
		a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
		if max(a[2], b[2], c[2]) < low || min(a[2], b[2], c[2]) > high {
			continue
		}
		poly = between(poly[:0], [3]geom.Vec{a.Vec(), b.Vec(), c.Vec()}, l.Bottom, l.Top)
		if len(poly) < 3 {
			continue
		}
		p := &parts[owner(poly, boxes, parts)]
		p.cover.flat(poly, facets)
		p.columns.facet(poly)
	}
}

// owner is the part that a facet belongs to: the one that has wood there at the facet's height, or at any, or whose box it is in.
func owner(poly []geom.Vec, boxes []geom.Box2, parts []Part) int {
	if len(parts) == 1 {
		return 0
	}
	p := poly[0]
	at := flatOf(p)
	best, least, known := 0, math.Inf(1), false
	for i, b := range boxes {
		if bits := parts[i].cover.at(at); bits != 0 {
			if bits&parts[i].heightBits(p.Z) != 0 {
				return i
			}
			if !known {
				best, known = i, true
			}
		}
		if size := b.Size(); !known && at.X >= b.Min.X && at.X <= b.Max.X && at.Y >= b.Min.Y && at.Y <= b.Max.Y && size.X*size.Y < least {
			best, least = i, size.X*size.Y
		}
	}
	return best
}

// heightBits are the bits of the sections next to a height.
func (p *Part) heightBits(z float64) uint16 {
	k := (z - p.slab.Bottom) / (p.slab.Top - p.slab.Bottom) * (partHeights - 1)
	low := max(0, min(partHeights-1, int(math.Floor(k))))
	return 1<<low | 1<<min(partHeights-1, low+1)
}

func flatOf(p geom.Vec) geom.Vec2 { return geom.Vec2{X: p.X, Y: p.Y} }

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
func split(parts []Part, splits []Split) (out []Part, seams []Seam, cautions []Caution) {
	out = slices.Clone(parts)
	for _, s := range splits {
		i := slices.IndexFunc(out, func(p Part) bool { return p.ID == s.Part })
		if i < 0 {
			cautions = append(cautions, Caution{Layer: s.Part.Layer, Text: fmt.Sprintf("There is no %v any more: take back its joint line.", s.Part)})
			continue
		}
		left, right, err := panel.SplitPart(out[i].Shadow, s.A, s.B)
		if err != nil {
			cautions = append(cautions, Caution{Layer: s.Part.Layer, Text: fmt.Sprintf("The joint line misses %v: move it, or take it back.", s.Part)})
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
