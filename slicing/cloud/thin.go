package cloud

import (
	"grainstack/slicing/mesh"
	"math"

	"grainstack/slicing/geom"
)

// Thinned has one point for each cube of the given step and side that the surface faces there, in the middle of those that it stands
// for: noise evens out. It is at the rim where one of those is.
func (c *Cloud) Thinned(step float64) *Cloud {
	type cell struct {
		x, y, z int32
		side    int8 // so that the two faces of a thin wall stay apart
	}
	type sum struct {
		at, normal geom.Vec
		area       float64
		rim        bool
	}
	box := c.Box()
	number := map[cell]int32{}
	var sums []sum
	for i, p := range c.Points {
		v, n := p.Vec().Sub(box.Min).Scale(1/step), c.Normals[i]
		k := cell{int32(v.X), int32(v.Y), int32(v.Z), sideOf(n)}
		at, ok := number[k]
		if !ok {
			at = int32(len(sums))
			number[k] = at
			sums = append(sums, sum{})
		}
		w := math.Max(float64(c.Areas[i]), 1e-30)
		s := &sums[at]
		s.at, s.normal = s.at.Add(p.Vec().Scale(w)), s.normal.Add(n.Vec().Scale(w))
		s.area += w
		s.rim = s.rim || c.Rim[i]
	}
	out := &Cloud{Spacing: math.Max(step, c.Spacing), Loose: c.Loose}
	for _, s := range sums {
		if n := s.normal.Unit(); n != (geom.Vec{}) {
			out.add(mesh.PointOf(s.at.Scale(1/s.area)), n, float32(s.area), s.rim)
		}
	}
	return out
}

// sideOf is the side of a cube that a normal looks to.
func sideOf(n [3]float32) int8 {
	axis := 0
	for k := range n {
		if math.Abs(float64(n[k])) > math.Abs(float64(n[axis])) {
			axis = k
		}
	}
	if n[axis] < 0 {
		return int8(axis)
	}
	return int8(axis + 3)
}
