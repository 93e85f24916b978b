package export

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// pocket adds the upright walls of a hollow through the whole layer.
func (b *bench) pocket(g geom.Region) {
	for _, r := range g {
		ring := b.footprint(r)
		if len(ring) < 3 {
			continue
		}
		n := int32(len(ring))
		base := int32(len(b.out.Points))
		for side := range 2 {
			for _, p := range ring {
				p[2] = float32(b.z[side])
				b.out.Points = append(b.out.Points, p)
			}
		}
		for i := range n { // the hollow is on the left of the ring
			p, q := base+i, base+(i+1)%n
			b.out.Triangles = append(b.out.Triangles, mesh.Triangle{p, q + n, q}, mesh.Triangle{p, p + n, q + n})
			b.rims[lower] = append(b.rims[lower], rimEdge{q, p, unknown})
			b.rims[upper] = append(b.rims[upper], rimEdge{p + n, q + n, unknown})
		}
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
