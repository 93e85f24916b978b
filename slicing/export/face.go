package export

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
)

// rimming is scratch for turning the sides of an open skin into rings.
type rimming struct {
	first []int32 // per point one more than the first side that begins there, 0 for none
	next  []int32 // per side one more than the next that begins at the same point
	taken []bool
}

// A flatRing is a closed line on a plane, with the points that it goes through.
type flatRing struct {
	geom.Ring
	ids []int32
}

// close fills what the skin leaves open on a plane with a flat face for each part. The hollow's lines belong to the part whose
// skin is round them.
func (b *bench) close(side int) {
	count := len(b.parts.Parts[b.k])
	rims := make([][]rimEdge, count+1)
	for _, e := range b.rims[side] {
		rims[e.part+1] = append(rims[e.part+1], e)
	}
	skins := make([][]flatRing, count)
	for part := range skins {
		skins[part] = b.flatRings(rims[part+1], side)
	}
	for _, r := range b.flatRings(rims[0], side) {
		part := roundOf(r.Ring, skins)
		skins[part] = append(skins[part], r)
	}
	for part := range skins {
		b.fill(skins[part], side)
		b.belong(int32(part))
	}
}

// roundOf is the part whose skin lies round a line of the hollow. Of several, as rounding may have it, it is the first.
func roundOf(r geom.Ring, skins [][]flatRing) int {
	if len(skins) == 1 {
		return 0
	}
	for part, rings := range skins {
		winding := 0
		for _, o := range rings {
			winding += o.Winding(r[0])
		}
		if winding > 0 {
			return part
		}
	}
	return 0
}

// flatRings chains the sides on a plane.
func (b *bench) flatRings(rims []rimEdge, side int) (out []flatRing) {
	rings, ids := b.rimming.rings(rims, b.out.Points, side == upper)
	for _, r := range rings {
		out = append(out, flatRing{r, ids[:len(r)]})
		ids = ids[len(r):]
	}
	return out
}

// fill adds the triangles of a flat face.
func (b *bench) fill(face []flatRing, side int) {
	var rings []geom.Ring
	var ids []int32
	for _, r := range face {
		rings, ids = append(rings, r.Ring), append(ids, r.ids...)
	}
	triangles, _ := plane.Triangulate(rings)
	for _, t := range triangles {
		p, q, r := ids[t[0]], ids[t[1]], ids[t[2]]
		if p == q || q == r || r == p { // where rings touch; what is beside it fits without
			continue
		}
		if side == lower {
			q, r = r, q
		}
		b.out.Triangles = append(b.out.Triangles, mesh.Triangle{p, q, r})
	}
}

// rings chains sides, seen from above with the wood on the left: the skin's own way on the lower plane, against it on the
// upper one. Where several meet in a point each ring takes the side that bounds the same wedge of wood. ids are the points
// of all rings in order.
func (r *rimming) rings(rims []rimEdge, points []mesh.Point, reverse bool) (rings []geom.Ring, ids []int32) {
	sides := make([]rimEdge, len(rims))
	for i, e := range rims {
		if reverse {
			e.from, e.to = e.to, e.from
		}
		sides[i] = e
	}
	r.index(sides, len(points))
	ids = make([]int32, 0, len(sides))
	flat := make([]geom.Vec2, 0, len(sides))
	for i := range sides {
		if r.taken[i] {
			continue
		}
		from := len(ids)
		for at := int32(i); at >= 0; at = r.after(sides, at, points) {
			r.taken[at] = true
			p := sides[at].from
			ids = append(ids, p)
			flat = append(flat, planar(points[p]))
		}
		if len(ids)-from < 3 { // there and back: the two triangles along it are partners
			ids, flat = ids[:from], flat[:from]
			continue
		}
		rings = append(rings, geom.Ring(flat[from:len(flat):len(flat)]))
	}
	return rings, ids
}

func planar(p mesh.Point) geom.Vec2 { return geom.Vec2{X: float64(p[0]), Y: float64(p[1])} }

// index lists the sides by the point where they begin.
func (r *rimming) index(sides []rimEdge, points int) {
	if len(r.first) < points {
		r.first = make([]int32, points+points/4)
	}
	r.next = append(r.next[:0], make([]int32, len(sides))...)
	r.taken = append(r.taken[:0], make([]bool, len(sides))...)
	for _, e := range sides {
		r.first[e.from], r.first[e.to] = 0, 0
	}
	for i := len(sides) - 1; i >= 0; i-- {
		p := sides[i].from
		r.next[i] = r.first[p]
		r.first[p] = int32(i + 1)
	}
}

// after is the side that goes on where one ends, -1 where the ring is closed. Of several it is the first met turning
// clockwise from the way back, over the wood.
func (r *rimming) after(sides []rimEdge, at int32, points []mesh.Point) int32 {
	p := sides[at].to
	only := r.first[p] - 1
	if only < 0 {
		return -1
	}
	if r.next[only] == 0 {
		if r.taken[only] {
			return -1
		}
		return only
	}
	o := planar(points[p])
	back := planar(points[sides[at].from]).Sub(o)
	best, least := int32(-1), math.Inf(1)
	for i := only; i >= 0; i = r.next[i] - 1 {
		if r.taken[i] {
			continue
		}
		way := planar(points[sides[i].to]).Sub(o)
		turn := math.Atan2(way.Cross(back), way.Dot(back)) // clockwise from back to way
		if turn <= 0 {
			turn += 2 * math.Pi
		}
		if turn < least {
			best, least = i, turn
		}
	}
	return best
}
