package solidtest

import (
	"math/rand"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Stretch is m with its lengths multiplied along each axis; an odd number of negative factors turns it inside out.
func Stretch(m *mesh.Mesh, sx, sy, sz float64) *mesh.Mesh {
	return points(m, func(v geom.Vec) geom.Vec { return geom.Vec{X: v.X * sx, Y: v.Y * sy, Z: v.Z * sz} })
}

// Moved is m shifted by d.
func Moved(m *mesh.Mesh, d geom.Vec) *mesh.Mesh {
	return points(m, func(v geom.Vec) geom.Vec { return v.Add(d) })
}

// Turned is m turned about the origin.
func Turned(m *mesh.Mesh, t geom.Turn) *mesh.Mesh { return points(m, t.Apply) }

// points is m with every point carried elsewhere; the triangles are shared.
func points(m *mesh.Mesh, to func(geom.Vec) geom.Vec) *mesh.Mesh {
	out := &mesh.Mesh{Points: make([]mesh.Point, len(m.Points)), Triangles: m.Triangles}
	for i, p := range m.Points {
		v := to(p.Vec())
		out.Points[i] = point(v.X, v.Y, v.Z)
	}
	return out
}

// Flip is m turned inside out: the same points, every triangle the other way round.
func Flip(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points, Triangles: make([]mesh.Triangle, len(m.Triangles))}
	for i, t := range m.Triangles {
		out.Triangles[i] = mesh.Triangle{t[0], t[2], t[1]}
	}
	return out
}

// Join puts solids into one mesh; shared points are not welded.
func Join(ms ...*mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, m := range ms {
		base := int32(len(out.Points))
		out.Points = append(out.Points, m.Points...)
		for _, t := range m.Triangles {
			out.Triangles = append(out.Triangles, mesh.Triangle{base + t[0], base + t[1], base + t[2]})
		}
	}
	return out
}

// Shuffle is m with triangles and points in random order, the worst that a scanner's file can be; which corner of a
// triangle comes first is random too.
func Shuffle(m *mesh.Mesh, seed int64) *mesh.Mesh {
	rnd := rand.New(rand.NewSource(seed))
	out := &mesh.Mesh{Points: make([]mesh.Point, len(m.Points)), Triangles: make([]mesh.Triangle, len(m.Triangles))}
	to := rnd.Perm(len(m.Points))
	for i, p := range m.Points {
		out.Points[to[i]] = p
	}
	for i, at := range rnd.Perm(len(m.Triangles)) {
		t, k := m.Triangles[i], rnd.Intn(3)
		for j := range 3 {
			out.Triangles[at][j] = int32(to[t[(j+k)%3]])
		}
	}
	return out
}
