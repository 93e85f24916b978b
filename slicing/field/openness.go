package field

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// taps are how many steps out along the normal the room is measured, and what each counts.
var taps = [...]struct{ out, weight float64 }{{1.5, 0.3}, {3, 0.35}, {6, 0.35}}

// openSpan is how many points a goroutine takes at a time.
const openSpan = 1 << 12

// Openness is how much of the sky each point of the surface sees, 255 for all of it: what soft shading under a chin or in a
// fold needs. Along the normal the room about a few points is compared with their distance from the surface. Points and
// normals (length 1, pointing out) are in the piece's frame; nil normals are taken from the depths. A normal of length 0
// counts as open.
func (g *Grid) Openness(points, normals []mesh.Point) []uint8 {
	out := make([]uint8, len(points))
	_ = par.Spans(context.Background(), len(points), openSpan, func(from, to int) {
		for i := from; i < to; i++ {
			var n geom.Vec
			if i < len(normals) {
				n = normals[i].Vec()
			} else {
				n = g.gradient(points[i].Vec()).Unit().Scale(-1)
			}
			out[i] = g.open(points[i].Vec(), n)
		}
	})
	return out
}

// open measures one point.
func (g *Grid) open(p, n geom.Vec) uint8 {
	if n == (geom.Vec{}) {
		return math.MaxUint8
	}
	q := p.Sub(g.origin).Scale(1 / g.step)
	sum := 0.0
	for _, t := range taps {
		room := -g.at(q.X+t.out*n.X, q.Y+t.out*n.Y, q.Z+t.out*n.Z) / g.step
		sum += t.weight * clamp(room/t.out, 0, 1)
	}
	return uint8(sum*math.MaxUint8 + 0.5)
}
