package stack

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

var ctx = context.Background()

// twins is the adjacency the obvious way.
func twins(m *mesh.Mesh) mesh.Adjacency {
	type edge struct{ a, b int32 }
	at := map[edge]int32{}
	adj := make(mesh.Adjacency, 3*len(m.Triangles))
	for t, tri := range m.Triangles {
		for e := range 3 {
			at[edge{tri[e], tri[(e+1)%3]}] = int32(3*t + e)
		}
	}
	for t, tri := range m.Triangles {
		for e := range 3 {
			twin, found := at[edge{tri[(e+1)%3], tri[e]}]
			if !found {
				twin = -1
			}
			adj[3*t+e] = twin
		}
	}
	return adj
}

func profileOf(t testing.TB, m *mesh.Mesh) *Profile {
	t.Helper()
	p, err := NewProfile(ctx, m)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func sectionsOf(t testing.TB, m *mesh.Mesh, planes ...float64) []Section {
	t.Helper()
	s, err := NewSlicer(m, twins(m)).Sections(ctx, planes)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func placed(t testing.TB, m *mesh.Mesh, turn geom.Turn, scale float64) *Placed {
	t.Helper()
	p, err := Place(ctx, m, Stand{turn, scale})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// agree fails the test unless got is within the share rel of want, or within abs of it.
func agree(t testing.TB, what string, got, want, rel, abs float64) {
	t.Helper()
	if !(math.Abs(got-want) <= max(rel*math.Abs(want), abs)) {
		t.Errorf("%s: got %.9g, want %.9g (off by %.3g)", what, got, want, got-want)
	}
}

// clip is what of a triangle lies below h, as a polygon.
func clip(tri []geom.Vec, h float64) []geom.Vec {
	var out []geom.Vec
	for i, p := range tri {
		q := tri[(i+1)%len(tri)]
		if p.Z <= h {
			out = append(out, p)
		}
		if (p.Z <= h) != (q.Z <= h) {
			out = append(out, p.Add(q.Sub(p).Scale((h-p.Z)/(q.Z-p.Z))))
		}
	}
	return out
}

// slow is the volume below h, its moment, and the skin and its rows facing up and down, by cutting every triangle into
// tetrahedra-like wedges under it: the second opinion on Profile.
type slow struct {
	volume float64
	moment geom.Vec
	skin   float64
	rows   [2][2]float64 // facing up, down; along X, Y
}

func slowBelow(m *mesh.Mesh, h float64) slow {
	var s slow
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		poly := clip([]geom.Vec{a, b, c}, h)
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		for k := 1; k+1 < len(poly); k++ {
			p, q, r := poly[0], poly[k], poly[k+1]
			cross := q.Sub(p).Cross(r.Sub(p))
			area := cross.Len() / 2
			// Prisms from the polygon up to the plane h, downward facets positive.
			mid := p.Add(q).Add(r).Scale(1.0 / 3)
			s.volume += -cross.Z / 2 * (h - mid.Z)
			// Moments of the prism: edge midpoints integrate quadratics exactly.
			for _, e := range [3]geom.Vec{p.Add(q).Scale(.5), q.Add(r).Scale(.5), r.Add(p).Scale(.5)} {
				w, d := -cross.Z/6, h-e.Z
				s.moment = s.moment.Add(geom.Vec{X: w * e.X * d, Y: w * e.Y * d, Z: w * d * (h + e.Z) / 2})
			}
			s.skin += area
			side := 0
			if n.Z < 0 {
				side = 1
			}
			s.rows[side][0] += area * math.Hypot(n.Z, n.X)
			s.rows[side][1] += area * math.Hypot(n.Z, n.Y)
		}
	}
	return s
}
