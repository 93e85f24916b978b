package mesh

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// span is how many triangles one piece of parallel work takes.
const span = 1 << 15

// Volume is what the surface encloses, in cubed file units: positive where triangles face outward, negative for a surface
// turned inside out. It is exact to rounding for a closed surface; for an open one it is the volume of the cone from the
// middle of the box to the surface.
func (m *Mesh) Volume() float64 {
	o := m.Box().Center()
	return m.sum(func(a, b, c geom.Vec) float64 { return a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o))) }) / 6
}

// Area is the area of the surface in squared file units, both sides of inner walls included.
func (m *Mesh) Area() float64 {
	return m.sum(func(a, b, c geom.Vec) float64 { return b.Sub(a).Cross(c.Sub(a)).Len() }) / 2
}

// Centroid is the centre of the enclosed volume; ok is false where there is none, or so little that the centre would be
// rounding.
func (m *Mesh) Centroid() (c geom.Vec, ok bool) {
	box := m.Box()
	o := box.Center()
	total := m.sums(func(a, b, c geom.Vec, s *[4]float64) {
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		w := a.Dot(b.Cross(c))
		s[0] += w
		s[1] += w * (a.X + b.X + c.X)
		s[2] += w * (a.Y + b.Y + c.Y)
		s[3] += w * (a.Z + b.Z + c.Z)
	})
	size := box.Size()
	if math.Abs(total[0]) <= noVolume*size.X*size.Y*size.Z {
		return geom.Vec{}, false
	}
	return o.Add(geom.Vec{X: total[1], Y: total[2], Z: total[3]}.Scale(1 / (4 * total[0]))), true
}

// SurfaceCentre is the centre of the surface as if it were of thin sheet; that of the box for a surface without area.
func (m *Mesh) SurfaceCentre() geom.Vec {
	o := m.Box().Center()
	total := m.sums(func(a, b, c geom.Vec, s *[4]float64) {
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		w := b.Sub(a).Cross(c.Sub(a)).Len()
		s[0] += w
		s[1] += w * (a.X + b.X + c.X)
		s[2] += w * (a.Y + b.Y + c.Y)
		s[3] += w * (a.Z + b.Z + c.Z)
	})
	if !(total[0] > 0) {
		return o
	}
	return o.Add(geom.Vec{X: total[1], Y: total[2], Z: total[3]}.Scale(1 / (3 * total[0])))
}

// noVolume is the share of its box below which a volume is only rounding: points carry 24 bits.
const noVolume = 1e-7

// sum adds f over all triangles; the order of adding does not depend on the number of cores.
func (m *Mesh) sum(f func(a, b, c geom.Vec) float64) float64 {
	return m.sums(func(a, b, c geom.Vec, s *[4]float64) { s[0] += f(a, b, c) })[0]
}

func (m *Mesh) sums(add func(a, b, c geom.Vec, s *[4]float64)) [4]float64 {
	n := len(m.Triangles)
	parts := make([][4]float64, (n+span-1)/span)
	run(n, span, func(from, to int) {
		var s [4]float64
		for i := from; i < to; i++ {
			a, b, c := m.Corners(i)
			add(a, b, c, &s)
		}
		parts[from/span] = s
	})
	var total [4]float64
	for _, p := range parts {
		for k := range total {
			total[k] += p[k]
		}
	}
	return total
}

// run is par.Spans for work too short to be called off.
func run(n, size int, do func(from, to int)) {
	_ = par.Spans(context.Background(), n, size, do) // without a deadline it has no error
}
