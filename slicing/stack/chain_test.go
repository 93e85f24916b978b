package stack

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

func TestJoinChains(t *testing.T) {
	chain := func(points ...geom.Vec2) []geom.Vec2 { return points }
	at := func(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }
	there, back := chain(at(0, 0), at(5, -3), at(10, 0)), chain(at(10, 1), at(0, 1))
	for _, tt := range []struct {
		name   string
		chains [][]geom.Vec2
		want   []int // points a ring
	}{
		{"none", nil, nil},
		{"closes on itself", [][]geom.Vec2{chain(at(0, 0), at(9, 0), at(9, 9), at(0, 2))}, []int{4}},
		{"gap too wide", [][]geom.Vec2{chain(at(0, 0), at(9, 0), at(9, 9), at(0, 2.1))}, nil},
		{"two make a ring", [][]geom.Vec2{there, back}, []int{5}},
		{"the nearer start wins", [][]geom.Vec2{there, back, chain(at(10, -1.5), at(30, 0))}, []int{5}},
		{"a start is taken once", [][]geom.Vec2{chain(at(30, 0), at(0, -1.5)), there, back}, []int{5}},
		{"left over", [][]geom.Vec2{there, chain(at(40, 0), at(50, 0))}, nil},
	} {
		var points []geom.Vec2
		var lines []line
		for _, c := range tt.chains {
			lines = append(lines, line{from: len(points), to: len(points) + len(c)})
			points = append(points, c...)
		}
		var got []int
		for _, r := range joinChains(lines, points) {
			got = append(got, len(r))
		}
		if !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: got rings of %v points, want %v", tt.name, got, tt.want)
		}
	}
}

// Neighbours that are none still let every walk come to an end.
func TestWalksEndWithWrongNeighbours(t *testing.T) {
	m := solidtest.Bumpy(100, 300)
	random := rand.New(rand.NewPCG(5, 6))
	for range 50 {
		adj := twins(m)
		for range 60 {
			i, j := random.IntN(len(adj)), random.IntN(len(adj))
			a, b := adj[i], adj[j]
			adj[i], adj[j] = int32(j), int32(i)
			adj[a], adj[b] = b, a
		}
		if _, err := NewSlicer(m, adj).Sections(ctx, []float64{-40, -1, 0, 3, 40}); err != nil {
			t.Fatal(err)
		}
	}
}
