package boxtree

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Box holds what hangs below a node.
type Box struct{ Min, Max mesh.Point }

// EmptyBox holds nothing.
func EmptyBox() Box {
	const far = math.MaxFloat32
	return Box{mesh.Point{far, far, far}, mesh.Point{-far, -far, -far}}
}

// Add lets the box hold p.
func (b *Box) Add(p mesh.Point) {
	for k, v := range p {
		b.Min[k], b.Max[k] = min(b.Min[k], v), max(b.Max[k], v)
	}
}

// Join is the box of both.
func (b Box) Join(o Box) Box {
	for k := range b.Min {
		b.Min[k], b.Max[k] = min(b.Min[k], o.Min[k]), max(b.Max[k], o.Max[k])
	}
	return b
}

// meets reports whether the boxes have a point in common.
func (b *Box) meets(o *Box) bool {
	return b.Min[0] <= o.Max[0] && o.Min[0] <= b.Max[0] && b.Min[1] <= o.Max[1] && o.Min[1] <= b.Max[1] &&
		b.Min[2] <= o.Max[2] && o.Min[2] <= b.Max[2]
}

// way2 is the squared distance from p to the box.
func (b *Box) way2(p geom.Vec) float64 {
	x := max(float64(b.Min[0])-p.X, p.X-float64(b.Max[0]), 0)
	y := max(float64(b.Min[1])-p.Y, p.Y-float64(b.Max[1]), 0)
	z := max(float64(b.Min[2])-p.Z, p.Z-float64(b.Max[2]), 0)
	return x*x + y*y + z*z
}

// Reach is the distance from p to the farthest corner of the box.
func (b *Box) Reach(p geom.Vec) float64 {
	x := max(p.X-float64(b.Min[0]), float64(b.Max[0])-p.X)
	y := max(p.Y-float64(b.Min[1]), float64(b.Max[1])-p.Y)
	z := max(p.Z-float64(b.Min[2]), float64(b.Max[2])-p.Z)
	return math.Sqrt(x*x + y*y + z*z)
}
