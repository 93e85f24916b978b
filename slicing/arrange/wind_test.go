package arrange

import (
	"errors"
	"testing"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestAbove: lines that run through corners, edges and along faces of a box, of two boxes and of a box inside out count each
// surface once.
func TestAbove(t *testing.T) {
	box := solidtest.Box(2, 2, 2)
	for _, tt := range []struct {
		m    *mesh.Mesh
		p    geom.Vec
		want int
	}{
		{box, geom.Vec{X: 1, Y: 1, Z: 1}, 1}, // on the diagonals of faces
		{box, geom.Vec{X: 0.5, Y: 0.25, Z: 1}, 1},
		{box, geom.Vec{X: 1, Y: 1, Z: -1}, 0},
		{box, geom.Vec{X: 3, Y: 1, Z: 1}, 0},
		{box, geom.Vec{X: 1, Y: 3, Z: 1}, 0},
		{solidtest.Flip(box), geom.Vec{X: 1, Y: 1, Z: 1}, -1},
		{solidtest.Join(box, box), geom.Vec{X: 1, Y: 1, Z: 1}, 2},
		{solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 1})), geom.Vec{X: 1.5, Y: 1, Z: 1}, 2},
		{solidtest.Join(box, solidtest.Moved(box, geom.Vec{Z: 3})), geom.Vec{X: 1, Y: 1, Z: 2.5}, 0},
		{solidtest.Join(solidtest.Sphere(4, 500), solidtest.Flip(solidtest.Sphere(2, 500))), geom.Vec{}, 0},
		{solidtest.Join(solidtest.Sphere(4, 500), solidtest.Flip(solidtest.Sphere(2, 500))), geom.Vec{Z: -3}, 1},
	} {
		tree, err := boxtree.New(t.Context(), tt.m)
		if err != nil {
			t.Fatal(err)
		}
		a := &arrangement{points: newPoints(tt.m), tree: tree}
		for axis := range 3 {
			if got := a.above(a.exactly(tt.p.X, tt.p.Y, tt.p.Z), along(axis)); got != tt.want {
				t.Errorf("%v along %d: %d, want %d", tt.p, axis, got, tt.want)
			}
		}
	}
}

func TestOpenSurfacesAreRefused(t *testing.T) {
	box := solidtest.Box(1, 1, 1)
	open := &mesh.Mesh{Points: box.Points, Triangles: box.Triangles[1:]}
	if _, err := Resolve(t.Context(), open); !errors.Is(err, ErrOpen) {
		t.Errorf("a box without a facet: %v", err)
	}
	turned := &mesh.Mesh{Points: box.Points, Triangles: append([]mesh.Triangle{}, box.Triangles...)}
	turned.Triangles[3][0], turned.Triangles[3][1] = turned.Triangles[3][1], turned.Triangles[3][0]
	if _, err := Resolve(t.Context(), turned); !errors.Is(err, ErrOpen) {
		t.Errorf("a box with a facet turned: %v", err)
	}
}

// TestWoundTheWrongWay: what of a box that is inside out lies outside another is told with its volume.
func TestWoundTheWrongWay(t *testing.T) {
	box := solidtest.Box(1, 1, 1)
	r := resolved(t, solidtest.Join(box, solidtest.Flip(solidtest.Moved(box, geom.Vec{X: 0.5, Y: 0.25}))))
	if v := r.Mesh.Volume(); v < 0.624999 || v > 0.625001 || r.Against < 0.624999 || r.Against > 0.625001 {
		t.Errorf("volume %g, wound the wrong way %g; want 0.625 of both", v, r.Against)
	}
}

// TestCornersOnEdges: a facet that is a mere line between neighbours goes, and the neighbour gets its corner.
func TestCornersOnEdges(t *testing.T) {
	box := solidtest.Box(2, 2, 2)
	m := &mesh.Mesh{Points: append([]mesh.Point{}, box.Points...), Triangles: append([]mesh.Triangle{}, box.Triangles...)}
	f := m.Triangles[0]
	a, b := m.Points[f[0]], m.Points[f[1]]
	mid := int32(len(m.Points))
	m.Points = append(m.Points, mesh.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2})
	m.Triangles[0] = mesh.Triangle{f[0], mid, f[2]}
	m.Triangles = append(m.Triangles, mesh.Triangle{mid, f[1], f[2]}, mesh.Triangle{f[0], f[1], mid})
	r := resolved(t, m)
	in := mesh.Inspect(r.Mesh, r.Mesh.Adjacency())
	if !in.Solid() || in.ZeroArea > 0 || in.Volume != 8 || len(r.Mesh.Triangles) != 14 {
		t.Errorf("%+v, %d facets", in, len(r.Mesh.Triangles))
	}
}
