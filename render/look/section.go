package look

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// meet adds where the triangle crosses the slab's plane; a corner at the plane counts as above.
func (l *lane) meet(r *Renderer, t mesh.Triangle, slab int) {
	plane := float32(r.slabs[slab].entry)
	var up, down [2]float32
	found := 0
	for i, a := range t {
		b := t[(i+1)%3]
		above, next := r.corners[a].h >= plane, r.corners[b].h >= plane
		if above == next {
			continue
		}
		found++
		if next {
			up = r.crossing(a, b, plane)
		} else {
			down = r.crossing(a, b, plane)
		}
	}
	if found == 2 {
		l.rungs[slab] = append(l.rungs[slab], rung{up[0], up[1], down[0], down[1]})
	}
}

// crossing is where the edge meets the plane, reckoned from its lower-numbered end, so that both triangles at the edge get
// the same bits.
func (r *Renderer) crossing(a, b int32, plane float32) [2]float32 {
	p, q := &r.corners[min(a, b)], &r.corners[max(a, b)]
	t := float64(plane-p.h) / float64(q.h-p.h)
	return [2]float32{
		float32(float64(p.x) + t*float64(q.x-p.x)),
		float32(float64(p.y) + t*float64(q.y-p.y)),
	}
}

// A turnAt is a place in a row where the winding changes.
type turnAt struct {
	x  float32 // pixels
	by int8
}

// fillFaces draws the faces that the slabs' planes lay bare: row by row, between the places where the outline's winding
// leaves zero and comes back.
func (r *Renderer) fillFaces(ctx context.Context) error {
	if !slices.ContainsFunc(r.slabs, func(s slab) bool { return s.cut }) {
		return nil
	}
	return par.Spans(ctx, len(r.lanes), 1, func(k, _ int) {
		rows := make([][]turnAt, r.window.y1-r.window.y0)
		for s := k; s < len(r.slabs); s += len(r.lanes) {
			if r.slabs[s].cut {
				r.fillFace(r.lanes[k].keys, s, rows)
			}
		}
	})
}

func (r *Renderer) fillFace(keys []uint64, s int, rows [][]turnAt) {
	for i := range rows {
		rows[i] = rows[i][:0]
	}
	drop := float32(r.slabs[s].drop)
	for k := range r.lanes {
		for _, g := range r.lanes[k].rungs[s] {
			g.y0, g.y1 = g.y0-drop, g.y1-drop
			g.cross(rows, r.window.y0)
		}
	}
	key := uint64(s)<<(64-slabBits) | faceFacet
	for i, row := range rows {
		slices.SortFunc(row, func(a, b turnAt) int {
			switch {
			case a.x < b.x:
				return -1
			case a.x > b.x:
				return 1
			}
			return int(a.by) - int(b.by)
		})
		winding := 0
		line := keys[(r.window.y0+i)*r.lens.w:][:r.lens.w]
		for j := 0; j+1 < len(row); j++ {
			if winding += int(row[j].by); winding != 0 {
				r.window.span(line, row[j].x, row[j+1].x, key)
			}
		}
	}
}

// cross notes where the rung passes the middle of each row. A row belongs to the rung from its upper end, that end
// included, to its lower one.
func (g rung) cross(rows [][]turnAt, first int) {
	by := int8(1)
	if g.y0 > g.y1 {
		g, by = rung{g.x1, g.y1, g.x0, g.y0}, -1
	}
	top := max(first, int(math.Ceil(float64(g.y0-half)/subPixel)))
	for y := top; y < first+len(rows) && float32(y*subPixel+half) < g.y1; y++ {
		t := (float32(y*subPixel+half) - g.y0) / (g.y1 - g.y0)
		rows[y-first] = append(rows[y-first], turnAt{(g.x0 + t*(g.x1-g.x0)) / subPixel, by})
	}
}

// span keeps the key for all pixels whose centres lie from a to b.
func (w window) span(line []uint64, a, b float32, key uint64) {
	from := max(float64(w.x0), math.Ceil(float64(a)-0.5))
	to := min(float64(w.x1), math.Ceil(float64(b)-0.5))
	for x := int(from); x < int(to); x++ {
		line[x] = min(line[x], key)
	}
}
