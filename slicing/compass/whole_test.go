package compass

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// band marks all facets that lie wholly between two heights.
func band(m *mesh.Mesh, low, high float64) []chalk.Kind {
	marks := make([]chalk.Kind, len(m.Triangles))
	for i := range marks {
		a, b, c := m.Corners(i)
		if min(a.Z, b.Z, c.Z) >= low && max(a.Z, b.Z, c.Z) <= high {
			marks[i] = chalk.KeepWhole
		}
	}
	return marks
}

// TestCrossings: joints of a rod run through a band that is kept whole, or beside it, or along its edges.
func TestCrossings(t *testing.T) {
	m := solidtest.Frustum(20, 20, 10, 720)
	for z := 1; z < 10; z++ { // a rod of ten rings, so that bands can be marked
		m = solidtest.Join(m, solidtest.Moved(solidtest.Frustum(20, 20, 10, 720), geom.Vec{Z: float64(10 * z)}))
	}
	w := newWhole(m, band(m, 20, 40)) // with the discs between the rings at 20, 30 and 40
	layers := func(first, thick float64) []stack.Slab {
		out, err := stack.Layers(100, thick, first)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	place := geom.Placement{Turn: geom.NoTurn(), Scale: 1}
	for _, tt := range []struct {
		first, thick float64
		want         int
	}{{25, 25, 1}, {20, 20, 0}, {5, 10, 2}, {15, 40, 0}, {5, 7, 2}, {50, 60, 0}, {10, 10, 1}} {
		if n := w.crossings(place, layers(tt.first, tt.thick)); n != tt.want {
			t.Errorf("first joint %g, layers of %g: %d joints run through, want %d", tt.first, tt.thick, n, tt.want)
		}
	}
	none := newWhole(m, nil)
	if n := none.crossings(place, layers(10, 10)); n != 0 {
		t.Errorf("%d joints through nothing", n)
	}
}

// TestKeptWhole: what is chalked as to be kept whole counts the joints through it, however the piece is turned: a band round a
// ball, wide enough for two joints where it lies level, is crossed by all the layers where it stands.
func TestKeptWhole(t *testing.T) {
	p := piece(solidtest.Sphere(60, 12_000))
	s := solid(t).WithLayer(stocktest.Catalogue(t), 15)
	for k := range 48 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 48)
		at := geom.Vec{X: 60 * cos, Y: 60 * sin}
		with, err := s.Chalk.With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 20, Path: []geom.Vec{at}})
		if err != nil {
			t.Fatal(err)
		}
		s.Chalk = with
	}
	level, upright := weighed(t, p, s, geom.Vec{Z: 1}, true), weighed(t, p, s, geom.Vec{X: 1}, false)
	if level.WholeCut < 2 || level.WholeCut > 4 || upright.WholeCut != upright.Joints {
		t.Errorf("%d joints run through the level band, %d of %d through the upright one", level.WholeCut, upright.WholeCut, upright.Joints)
	}
}
