package solidtest

import (
	"math"
	"math/rand"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Sitting is what a camera saw of a piece from one side: open, in a frame and unit of its own.
type Sitting struct {
	Mesh *mesh.Mesh
	At   geom.Placement // carries it back to the piece
}

// Sittings are scans of a closed piece from n sides round a random axis, each a bit more than half of it: turned, moved, scaled by 0.5
// to 2, every point off by noise along each axis (a share of the piece's size, which is its box's longest side; the deviation of a
// normal spread), and with so much of its facets again as debris round the piece.
func Sittings(m *mesh.Mesh, n int, noise, debris float64, seed int64) []Sitting {
	rnd := rand.New(rand.NewSource(seed))
	heading := func() geom.Vec {
		return geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
	}
	box := m.Box()
	size, middle := Size(m), box.Center()
	axis := heading()
	side := axis.Cross(heading()).Unit()
	var out []Sitting
	for k := range n {
		view := geom.TurnAbout(axis, 2*math.Pi*float64(k)/float64(n)).Apply(side)
		seen := Cut(m, func(p geom.Vec) bool { return p.Sub(middle).Dot(view) > -0.1*size })
		parts := []*mesh.Mesh{points(seen, func(v geom.Vec) geom.Vec {
			return v.Add(geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Scale(noise * size))
		})}
		for left := debris * float64(len(seen.Triangles)); left > 0; {
			bit := Sphere(size*(0.002+0.018*rnd.Float64()), 48)
			at := geom.Vec{X: rnd.Float64() - 0.5, Y: rnd.Float64() - 0.5, Z: rnd.Float64() - 0.5}.Scale(1.6 * size)
			parts = append(parts, Moved(bit, middle.Add(at)))
			left -= float64(len(bit.Triangles))
		}
		to := geom.Placement{Turn: geom.TurnAbout(heading(), math.Pi*rnd.Float64()), Scale: math.Pow(4, rnd.Float64()-0.5), Shift: heading().Scale(size * 2 * rnd.Float64())}
		out = append(out, Sitting{points(Join(parts...), to.Apply), to.Inverse()})
	}
	return out
}

// Size is the longest side of a mesh's box.
func Size(m *mesh.Mesh) float64 {
	s := m.Box().Size()
	return max(s.X, s.Y, s.Z)
}

// Cut is the part of m whose facets have all corners where keep says, without points that nothing uses.
func Cut(m *mesh.Mesh, keep func(geom.Vec) bool) *mesh.Mesh {
	out := &mesh.Mesh{}
	number := map[int32]int32{}
	for _, t := range m.Triangles {
		if !keep(m.Points[t[0]].Vec()) || !keep(m.Points[t[1]].Vec()) || !keep(m.Points[t[2]].Vec()) {
			continue
		}
		for k, p := range t {
			at, ok := number[p]
			if !ok {
				at = int32(len(out.Points))
				number[p] = at
				out.Points = append(out.Points, m.Points[p])
			}
			t[k] = at
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}
