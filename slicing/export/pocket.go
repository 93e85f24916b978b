package export

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
)

// pocket adds the upright walls of a layer's hollow, and a floor or a ceiling where it is blind: at the ends of the stack.
func (b *bench) pocket(l *job.Layer) {
	ends := [2]float64{b.z[lower], b.z[upper]}
	blind := [2]bool{l.PocketBottom > l.Bottom, l.PocketTop < l.Top}
	if blind[lower] {
		ends[lower] = l.PocketBottom
	}
	if blind[upper] {
		ends[upper] = l.PocketTop
	}
	var rings []geom.Ring
	var ids [2][]int32
	for _, r := range l.Pocket {
		ring := b.footprint(r)
		if len(ring) < 3 {
			continue
		}
		n := int32(len(ring))
		base := int32(len(b.out.Points))
		flat := make(geom.Ring, n)
		for side := range 2 {
			for i, p := range ring {
				p[2] = float32(ends[side])
				flat[i] = planar(p)
				ids[side] = append(ids[side], int32(len(b.out.Points)))
				b.out.Points = append(b.out.Points, p)
			}
		}
		rings = append(rings, flat)
		for i := range n { // the hollow is on the left of the ring
			p, q := base+i, base+(i+1)%n
			b.out.Triangles = append(b.out.Triangles, mesh.Triangle{p, q + n, q}, mesh.Triangle{p, p + n, q + n})
			if !blind[lower] {
				b.rims[lower] = append(b.rims[lower], rimEdge{q, p, unknown})
			}
			if !blind[upper] {
				b.rims[upper] = append(b.rims[upper], rimEdge{p + n, q + n, unknown})
			}
		}
	}
	for side, shut := range blind {
		if shut {
			b.shut(rings, ids[side], side)
		}
	}
}

// shut closes a pocket on one side: the floor looks up into it, the ceiling down.
func (b *bench) shut(rings []geom.Ring, ids []int32, side int) {
	triangles, _ := plane.Triangulate(rings)
	for _, t := range triangles {
		p, q, r := ids[t[0]], ids[t[1]], ids[t[2]]
		if side == upper {
			q, r = r, q
		}
		b.out.Triangles = append(b.out.Triangles, mesh.Triangle{p, q, r})
	}
}

// footprint is a ring in float32, without repeated points.
func (b *bench) footprint(r geom.Ring) []mesh.Point {
	var out []mesh.Point
	for _, v := range r {
		p := mesh.Point{float32(v.X), float32(v.Y)}
		if n := len(out); n == 0 || out[n-1] != p {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}
