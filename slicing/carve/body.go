package carve

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A Body is one connected place where something lies that ought not to.
type Body struct {
	Volume float64  // mm³
	Center geom.Vec // of its volume
	Max    float64  // mm, the most in one column
	Area   float64  // mm², as seen from above
	At     geom.Vec // where the most lies
}

// radius is that of a disc of the body's area, mm.
func (b Body) radius() float64 { return math.Sqrt(b.Area / math.Pi) }

// Bodies are the connected places of what is trapped, the largest first, without those of less than smallest mm³. Columns
// that touch at a side or a corner are connected.
func (t *Trapped) Bodies(smallest float64) []Body {
	return t.Map.bodies(func(i int) (mm, z float64) {
		if t.Map.Z == nil {
			return 0, 0
		}
		return float64(t.Map.Z[i]), float64(t.Middle.Z[i])
	}, smallest)
}

// bodies gathers the columns where mm is more than 0, z being how high it lies.
func (m *HeightMap) bodies(of func(i int) (mm, z float64), smallest float64) []Body {
	labels, n := m.label(func(i int) bool { mm, _ := of(i); return mm > 0 })
	sums := make([]Body, n)
	for i, l := range labels {
		if l == 0 {
			continue
		}
		b := &sums[l-1]
		mm, z := of(i)
		p := m.Place(i%m.W, i/m.W)
		at := geom.Vec{X: p.X, Y: p.Y, Z: z}
		b.Volume += mm
		b.Area++
		b.Center = b.Center.Add(at.Scale(mm))
		if mm > b.Max {
			b.Max, b.At = mm, at
		}
	}
	cell := m.Step * m.Step
	for i := range sums {
		b := &sums[i]
		b.Center = b.Center.Scale(1 / b.Volume)
		b.Volume *= cell
		b.Area *= cell
	}
	sums = slices.DeleteFunc(sums, func(b Body) bool { return b.Volume < smallest })
	slices.SortStableFunc(sums, func(a, b Body) int {
		switch {
		case a.Volume > b.Volume:
			return -1
		case a.Volume < b.Volume:
			return 1
		}
		return 0
	})
	return sums
}

// label numbers the connected places where in holds, from 1 in the order in which their first columns come; 0 elsewhere.
// Nothing is labelled in a map that holds nothing.
func (m *HeightMap) label(in func(i int) bool) (labels []int32, n int) {
	return plane.Components(m.W, m.H, in)
}

// Without is the map without the connected places that hold less than smallest mm³ together.
func (m *HeightMap) Without(smallest float64) HeightMap {
	if m.Z == nil {
		return *m
	}
	labels, n := m.label(func(i int) bool { return m.Z[i] > 0 })
	sums := make([]float64, n+1)
	for i, l := range labels {
		sums[l] += float64(m.Z[i])
	}
	var z []float32
	for i, l := range labels {
		if l == 0 || sums[l]*m.Step*m.Step < smallest {
			continue
		}
		if z == nil {
			z = make([]float32, len(m.Z))
		}
		z[i] = m.Z[i]
	}
	return m.like(z)
}
