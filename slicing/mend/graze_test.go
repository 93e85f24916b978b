package mend

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestSheetsThatGraze: where folds of a surface run into one another at a grazing angle, and its facets are not much longer than
// what its numbers tell, cutting leaves folds that lie on themselves for good. They enclose nothing, and nothing is built anew for them.
func TestSheetsThatGraze(t *testing.T) {
	dir := os.Getenv("GRAINSTACK_FIELD_SET")
	if dir == "" {
		t.Skip("GRAINSTACK_FIELD_SET names no folder of meshes")
	}
	whole, _, err := mesh.Open(filepath.Join(dir, "dragon.obj"))
	if err != nil {
		t.Fatal(err)
	}
	at := geom.Vec{X: -32.4, Y: 7.9, Z: 80.08}
	for _, reach := range []float64{1.2, 2.5} {
		m := halved(slab(whole, at, reach))
		if m.Volume() < 0 {
			m = solidtest.Flip(m)
		}
		got, err := Mend(t.Context(), m, m.Adjacency(), Settings{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if f := mesh.Inspect(got.Mesh, got.Mesh.Adjacency()); got.Rebuilt || got.DistanceMaxMm > 0 || !f.Solid() {
			t.Errorf("within %v: rebuilt %v, moved by %v, solid %v", reach, got.Rebuilt, got.DistanceMaxMm, f.Solid())
		}
		_, union := linesThrough(m, 700)
		_, held := linesThrough(got.Mesh, 700)
		if left := crossingsOf(t, got.Mesh); !allFlat(got.Mesh, left) || math.Abs(held/union-1) > 1e-5 {
			t.Errorf("within %v: %d pairs of facets cross, %g is held where lines through the scan find %g", reach, len(left), held, union)
		}
		t.Logf("within %v: %g of %g; %v", reach, held, union, got.Actions)
	}
}

// slab is the part of a surface that lies within reach of a place, given a back a little behind it, and a rim.
func slab(m *mesh.Mesh, at geom.Vec, reach float64) *mesh.Mesh {
	out := &mesh.Mesh{}
	to := map[int32]int32{}
	rim := map[[2]int32]bool{}
	for _, t := range m.Triangles {
		near := true
		for _, v := range t {
			near = near && m.Points[v].Vec().Sub(at).Len() < reach
		}
		if !near {
			continue
		}
		var n mesh.Triangle
		for k, v := range t {
			if _, ok := to[v]; !ok {
				to[v] = int32(len(out.Points))
				out.Points = append(out.Points, m.Points[v])
			}
			n[k] = to[v]
		}
		out.Triangles = append(out.Triangles, n)
		for k, a := range n {
			if b := n[(k+1)%3]; rim[[2]int32{b, a}] {
				delete(rim, [2]int32{b, a})
			} else {
				rim[[2]int32{a, b}] = true
			}
		}
	}
	back := int32(len(out.Points))
	for _, p := range out.Points {
		out.Points = append(out.Points, mesh.Point{p[0], p[1], p[2] - 6})
	}
	for _, t := range out.Triangles {
		out.Triangles = append(out.Triangles, mesh.Triangle{back + t[0], back + t[2], back + t[1]})
	}
	for e := range rim {
		out.Triangles = append(out.Triangles, mesh.Triangle{e[1], e[0], back + e[0]}, mesh.Triangle{e[1], back + e[0], back + e[1]})
	}
	return out
}

// halved is m with each facet divided in four at the middles of its sides, as near as the points' numbers have them.
func halved(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points}
	mids := map[[2]int32]int32{}
	mid := func(a, b int32) int32 {
		e := [2]int32{min(a, b), max(a, b)}
		id, ok := mids[e]
		if !ok {
			id = int32(len(out.Points))
			mids[e] = id
			out.Points = append(out.Points, mesh.PointOf(m.Points[a].Vec().Add(m.Points[b].Vec()).Scale(0.5)))
		}
		return id
	}
	for _, t := range m.Triangles {
		a, b, c := mid(t[0], t[1]), mid(t[1], t[2]), mid(t[2], t[0])
		out.Triangles = append(out.Triangles, mesh.Triangle{t[0], a, c}, mesh.Triangle{a, t[1], b}, mesh.Triangle{c, b, t[2]}, mesh.Triangle{a, b, c})
	}
	return out
}
