package mesh

import (
	"math"

	"grainstack/slicing/geom"
)

// A Point is a vertex, compact because a scan has millions.
type Point [3]float32

// PointOf is a place as a point, rounded to its precision.
func PointOf(v geom.Vec) Point { return Point{float32(v.X), float32(v.Y), float32(v.Z)} }

// Vec is the point at full precision.
func (p Point) Vec() geom.Vec { return geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])} }

// A Triangle names its three vertices, counter-clockwise seen from outside.
type Triangle [3]int32

// A Mesh is a welded, indexed surface. It is never changed after it has been made; points may be shared by meshes.
type Mesh struct {
	Points    []Point
	Triangles []Triangle
}

// Corners are the three corner points of triangle i.
func (m *Mesh) Corners(i int) (a, b, c geom.Vec) {
	t := m.Triangles[i]
	return m.Points[t[0]].Vec(), m.Points[t[1]].Vec(), m.Points[t[2]].Vec()
}

// Box is the smallest box round all points, empty for a mesh without points.
func (m *Mesh) Box() geom.Box {
	if len(m.Points) == 0 {
		return geom.EmptyBox()
	}
	b := emptyExtent()
	for _, p := range m.Points {
		b.add(p)
	}
	return b.box()
}

// An extent is a box at the points' own precision.
type extent struct{ min, max Point }

func emptyExtent() extent {
	const far = math.MaxFloat32
	return extent{Point{far, far, far}, Point{-far, -far, -far}}
}

func (e *extent) add(p Point) {
	for k, v := range p {
		if v < e.min[k] {
			e.min[k] = v
		}
		if v > e.max[k] {
			e.max[k] = v
		}
	}
}

func (e *extent) join(o extent) {
	e.add(o.min)
	e.add(o.max)
}

func (e *extent) box() geom.Box { return geom.Box{Min: e.min.Vec(), Max: e.max.Vec()} }
