package arrange

import (
	"context"
	"math/rand"
	"testing"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func crossingsOf(t testing.TB, m *mesh.Mesh) []boxtree.Pair {
	h, err := boxtree.New(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Crossings(context.Background(), h, false)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestCrossings(t *testing.T) {
	sphere := solidtest.Sphere(50, 3000)
	box := solidtest.Box(10, 10, 10)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		want bool
	}{
		{"sphere", sphere, false},
		{"torus", solidtest.Torus(40, 12, 90, 30), false},
		{"bumpy", solidtest.Bumpy(100, 20000), false},
		{"two apart", solidtest.Join(sphere, solidtest.Moved(sphere, geom.Vec{X: 101})), false},
		{"one in the other", solidtest.Join(sphere, solidtest.Sphere(49, 3000)), false},
		{"two pushed together", solidtest.Join(sphere, solidtest.Moved(sphere, geom.Vec{X: 60})), true},
		{"boxes that share planes", solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 5})), true},
		{"boxes pushed together", solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 5, Y: 3, Z: 2})), true},
		{"boxes that share an edge", solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 10, Y: 10})), false},
		{"twice the same", solidtest.Join(box, box), true},
	} {
		if got := crossingsOf(t, tt.m); (len(got) > 0) != tt.want {
			t.Errorf("%s: %d crossings, want some: %v", tt.name, len(got), tt.want)
		}
	}
}

func TestCrossingsAgainstAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	m := &mesh.Mesh{}
	for range 150 {
		o := mesh.Point{rnd.Float32() / 2, rnd.Float32() / 2, rnd.Float32() / 2}
		n := int32(len(m.Points))
		for range 3 {
			m.Points = append(m.Points, mesh.Point{o[0] + rnd.Float32()/5, o[1] + rnd.Float32()/5, o[2] + rnd.Float32()/5})
		}
		m.Triangles = append(m.Triangles, mesh.Triangle{n, n + 1, n + 2})
	}
	want := map[boxtree.Pair]bool{}
	for i := range m.Triangles {
		for j := range i {
			var p, q [3]geom.Vec
			p[0], p[1], p[2] = m.Corners(i)
			q[0], q[1], q[2] = m.Corners(j)
			if sampledCross(&p, &q) || sampledCross(&q, &p) {
				want[boxtree.Pair{int32(j), int32(i)}] = true
			}
		}
	}
	got := crossingsOf(t, m)
	if len(got) != len(want) || len(got) < 20 {
		t.Errorf("%d crossings, want %d", len(got), len(want))
	}
	for _, p := range got {
		if !want[p] {
			t.Errorf("%v do not cross", p)
		}
	}
}

// sampledCross solves for where each side of q meets the plane of p, in p's own coordinates.
func sampledCross(p, q *[3]geom.Vec) bool {
	u, v := p[1].Sub(p[0]), p[2].Sub(p[0])
	n := u.Cross(v)
	for k := range 3 {
		a, d := q[k], q[(k+1)%3].Sub(q[k])
		s := n.Dot(p[0].Sub(a)) / n.Dot(d)
		if s < 0 || s > 1 {
			continue
		}
		r := a.Add(d.Scale(s)).Sub(p[0])
		x, y := r.Cross(v).Dot(n)/n.Dot(n), u.Cross(r).Dot(n)/n.Dot(n)
		if x >= 0 && y >= 0 && x+y <= 1 {
			return true
		}
	}
	return false
}
