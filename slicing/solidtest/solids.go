package solidtest

import (
	"math"

	"grainstack/slicing/mesh"
)

// Box is the block from the origin to (a, b, c): volume abc, area 2(ab+bc+ca), 12 triangles.
func Box(a, b, c float64) *mesh.Mesh {
	m := lattice(1)
	for i, p := range m.Points {
		m.Points[i] = point((float64(p[0])+1)/2*a, (float64(p[1])+1)/2*b, (float64(p[2])+1)/2*c)
	}
	return m
}

// Sphere is a ball of radius r about the origin with about n triangles (12k² for a whole k). The ball that it stands for
// has volume 4πr³/3 and area 4πr².
func Sphere(r float64, n int) *mesh.Mesh { return Ellipsoid(r, r, r, n) }

// Ellipsoid has the half axes a, b, c along X, Y, Z about the origin and about n triangles. The true one has volume
// 4πabc/3.
func Ellipsoid(a, b, c float64, n int) *mesh.Mesh {
	m := lattice(divisions(n))
	for i, p := range m.Points {
		d := direction(p)
		m.Points[i] = point(a*d.X, b*d.Y, c*d.Z)
	}
	return m
}

// Torus is a ring about the Z axis: R from the axis to the middle of the tube, r the tube's radius, n steps round the
// axis, m round the tube, 2nm triangles. The true one has volume 2π²Rr² and area 4π²Rr.
func Torus(R, r float64, n, m int) *mesh.Mesh {
	out := &mesh.Mesh{Points: make([]mesh.Point, 0, n*m), Triangles: make([]mesh.Triangle, 0, 2*n*m)}
	for i := range n {
		su, cu := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range m {
			sv, cv := math.Sincos(2 * math.Pi * float64(j) / float64(m))
			d := R + r*cv
			out.Points = append(out.Points, point(d*cu, d*su, r*sv))
			a, b := int32(i*m+j), int32((i+1)%n*m+j)
			c, e := int32((i+1)%n*m+(j+1)%m), int32(i*m+(j+1)%m)
			out.Triangles = append(out.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, e})
		}
	}
	return out
}

// Frustum is a cut cone about the Z axis with n sides, standing on z = 0: corners at radius r0 there and at r1 on z = h;
// one radius may be zero. Being made of regular n-gons it has exactly the volume n·sin(2π/n)/2 · h(r0²+r0r1+r1²)/3; the
// true one has πh(r0²+r0r1+r1²)/3.
func Frustum(r0, r1, h float64, n int) *mesh.Mesh {
	out := &mesh.Mesh{}
	low, lowRound := disc(out, r0, 0, n)
	high, highRound := disc(out, r1, h, n)
	for i := range n {
		j := (i + 1) % n
		a, b := low, low
		if lowRound {
			a, b = low+1+int32(i), low+1+int32(j)
			out.Triangles = append(out.Triangles, mesh.Triangle{low, b, a})
		}
		c, d := high, high
		if highRound {
			c, d = high+1+int32(i), high+1+int32(j)
			out.Triangles = append(out.Triangles, mesh.Triangle{high, c, d})
		}
		if lowRound {
			out.Triangles = append(out.Triangles, mesh.Triangle{a, b, d})
		}
		if highRound {
			out.Triangles = append(out.Triangles, mesh.Triangle{a, d, c})
		}
	}
	return out
}

// disc adds the middle and, where r is not zero, n points round it; it returns the middle's number.
func disc(m *mesh.Mesh, r, z float64, n int) (middle int32, round bool) {
	middle = int32(len(m.Points))
	m.Points = append(m.Points, point(0, 0, z))
	if r == 0 {
		return middle, false
	}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		m.Points = append(m.Points, point(r*c, r*s, z))
	}
	return middle, true
}

func point(x, y, z float64) mesh.Point { return mesh.Point{float32(x), float32(y), float32(z)} }

// Bench is a seat of 200 x 200 x 40 mm on two walls 30 mm thick, 120 mm high, of which the right one is shorter.
func Bench(shorter float64) *mesh.Mesh {
	side := [][2]float32{{-100, 0}, {-70, 0}, {-70, 120}, {70, 120}, {70, float32(shorter)}, {100, float32(shorter)}, {100, 120}, {100, 160}, {-100, 160}, {-100, 120}}
	m := &mesh.Mesh{}
	for _, y := range []float32{-100, 100} {
		for _, p := range side {
			m.Points = append(m.Points, mesh.Point{p[0], y, p[1]})
		}
	}
	n := int32(len(side))
	for i := range n {
		k := (i + 1) % n
		m.Triangles = append(m.Triangles, mesh.Triangle{i, i + n, k}, mesh.Triangle{k, i + n, k + n})
	}
	for _, f := range [][3]int32{{0, 1, 2}, {0, 2, 9}, {4, 5, 6}, {4, 6, 3}, {8, 9, 2}, {8, 2, 3}, {8, 3, 6}, {8, 6, 7}} {
		m.Triangles = append(m.Triangles, mesh.Triangle{f[0], f[1], f[2]}, mesh.Triangle{f[0] + n, f[2] + n, f[1] + n})
	}
	return m
}
