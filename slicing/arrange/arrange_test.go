package arrange

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func resolved(t testing.TB, m *mesh.Mesh) *Result {
	t.Helper()
	r, err := Resolve(t.Context(), m)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestBoxes(t *testing.T) {
	box := solidtest.Box(1, 1, 1)
	for _, tt := range []struct {
		name string
		with *mesh.Mesh
		want float64
	}{
		{"pushed into one another", solidtest.Moved(box, geom.Vec{X: 0.5, Y: 0.25, Z: 0.125}), 2 - 0.5*0.75*0.875},
		{"sharing four planes", solidtest.Moved(box, geom.Vec{X: 0.5}), 1.5},
		{"sharing two planes", solidtest.Moved(box, geom.Vec{X: 0.5, Y: 0.25}), 2 - 0.5*0.75},
		{"sharing a face", solidtest.Moved(box, geom.Vec{X: 1}), 2},
		{"sharing a part of a face", solidtest.Moved(box, geom.Vec{X: 1, Y: 0.5}), 2},
		{"sharing an edge", solidtest.Moved(box, geom.Vec{X: 1, Y: 1}), 2},
		{"sharing a part of an edge", solidtest.Moved(box, geom.Vec{X: 1, Y: 1, Z: 0.5}), 2},
		{"sharing a corner", solidtest.Moved(box, geom.Vec{X: 1, Y: 1, Z: 1}), 2},
		{"edge on a face", solidtest.Moved(solidtest.Turned(box, geom.TurnXYZ(0, 0, 45)), geom.Vec{X: 1 + math.Sqrt2/2, Y: 0.2}), 2},
		{"the same", box, 1},
		{"one in the other", solidtest.Moved(solidtest.Box(0.5, 0.5, 0.5), geom.Vec{X: 0.25, Y: 0.25, Z: 0.25}), 1},
		{"one in the other's corner", solidtest.Box(0.5, 0.25, 0.125), 1},
		{"apart", solidtest.Moved(box, geom.Vec{X: 2}), 2},
		{"inside out beside", solidtest.Flip(solidtest.Moved(box, geom.Vec{X: 2})), 1},
		{"inside out across", solidtest.Flip(solidtest.Moved(box, geom.Vec{X: 0.5})), 0.5},
	} {
		m := solidtest.Join(box, tt.with)
		r := resolved(t, m)
		f := mesh.Inspect(r.Mesh, r.Mesh.Adjacency())
		if math.Abs(f.Volume-tt.want) > 1e-6 || f.OpenEdges > 0 || f.FlippedEdges > 0 {
			t.Errorf("%s: volume %g, want %g; %+v, %d facets of %d touched, %d lines", tt.name, f.Volume, tt.want, f, r.Touched, len(m.Triangles), r.Lines)
		}
	}
}
