package carve

import (
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// QuickStep is the columns' spacing in mm that serves to compare stands.
const QuickStep = 2.0

// A quickStand is a piece that stands for a moment.
type quickStand struct {
	points []mesh.Point
	box    geom.Box
	height float64
	low    float64 // what it was raised by
}

func stand(m *mesh.Mesh, s stack.Stand) (quickStand, error) {
	if len(m.Points) == 0 || len(m.Triangles) == 0 || !(s.Scale > 0) {
		return quickStand{}, fmt.Errorf("carve: no piece to stand, or at no scale")
	}
	q := quickStand{points: make([]mesh.Point, len(m.Points))}
	var k [3][3]float32
	for i := range k {
		for j := range k[i] {
			k[i][j] = float32(s.Turn[i][j] * s.Scale)
		}
	}
	low, high := float32(math.MaxFloat32), float32(-math.MaxFloat32)
	for i, p := range m.Points {
		t := &q.points[i]
		for c := range k {
			t[c] = k[c][0]*p[0] + k[c][1]*p[1] + k[c][2]*p[2]
		}
		low, high = min3(low, t[2], t[2]), max3(high, t[2], t[2])
	}
	for i := range q.points {
		q.points[i][2] -= low
	}
	q.box = (&mesh.Mesh{Points: q.points}).Box()
	q.height, q.low = float64(high-low), float64(low)
	if size := q.box.Size().Len(); math.IsNaN(size) || math.IsInf(size, 0) {
		return quickStand{}, fmt.Errorf("carve: the piece has points that are no numbers")
	}
	return q, nil
}
