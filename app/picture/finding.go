package picture

import (
	"math"

	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
)

// near is how far from a place facets count towards where it faces, in parts of the mesh's diagonal.
const near = 0.03

// Facing is the way that a mesh faces about a place, by area: length 1. ok is false where that is undecided. It goes over the
// triangles.
func Facing(m *mesh.Mesh, at geom.Vec) (n geom.Vec, ok bool) {
	box := m.Box()
	reach := near * box.Size().Len()
	area := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		if a.Add(b).Add(c).Scale(1.0/3).Sub(at).Len() > reach {
			continue
		}
		one := b.Sub(a).Cross(c.Sub(a))
		n, area = n.Add(one), area+one.Len()
	}
	if !(n.Len() > 0.1*area) {
		n = at.Sub(box.Center())
	}
	if !(n.Len() > 0) {
		return geom.Vec{}, false
	}
	return n.Unit(), true
}

// From is the camera gone round to where a direction of the stand points, with nothing else changed.
func From(c look.Camera, n geom.Vec) look.Camera {
	n = n.Unit()
	c.Elevation = math.Asin(math.Max(-1, math.Min(1, n.Z)))
	if math.Hypot(n.X, n.Y) > 1e-6 {
		c.Azimuth = math.Atan2(n.Y, n.X)
	}
	return c
}

// SawnOff is what a saw will take off a piece that stands: ok is false where the plane is not level there.
func SawnOff(at Place, saw mend.Plane) (look.Band, bool) {
	long := saw.Normal.Len()
	if !saw.On || !(long > 0) || at.Placement.Turn.Apply(saw.Normal).Z < 0.9999*long {
		return look.Band{}, false
	}
	z := at.Placement.Apply(saw.Normal.Scale(saw.D / (long * long))).Z
	return look.Band{From: -at.Height, To: z}, z > 0
}
