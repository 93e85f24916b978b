package compass

import (
	"context"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// band marks all facets that lie wholly between two heights.
func band(m *mesh.Mesh, low, high float64) Marks {
	marks := make(Marks, len(m.Triangles))
	for i := range marks {
		a, b, c := m.Corners(i)
		if min(a.Z, b.Z, c.Z) >= low && max(a.Z, b.Z, c.Z) <= high {
			marks[i] = KeepWhole
		}
	}
	return marks
}

// TestCrossings: a joint runs once round a rod, through a band that is kept whole or not.
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
	}{{25, 25, 1}, {20, 20, 0}, {5, 10, 2}, {15, 40, 0}, {5, 7, 2}, {50, 60, 0}} {
		mm := w.crossings(place, layers(tt.first, tt.thick))
		n, sum := crossed(mm)
		if n != tt.want {
			t.Errorf("first joint %g, layers of %g: %d joints run through, want %d: %v", tt.first, tt.thick, n, tt.want, mm)
		}
		near(t, "mm", sum, float64(tt.want)*2*3.14159*20, 0.5)
	}
	none := newWhole(m, nil)
	if n, _ := crossed(none.crossings(place, layers(10, 10))); n != 0 {
		t.Errorf("%d joints through nothing", n)
	}
}

// TestBestOffset: a band lower than a layer is left whole by some first joint, which is found; and a thin neck between two
// balls gets no joint.
func TestBestOffset(t *testing.T) {
	ctx, c := context.Background(), catalogue(t)
	s := solid(t).WithLayer(c, 16)
	ball := solidtest.Sphere(60, 30_000)
	marks := band(ball, 28-60, 39-60) // above the floor: a whole first layer puts a joint at 32
	p := piece(ball)
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	best, now, err := BestOffset(ctx, st, s, c, marks)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("now %+v, best %+v", now, best)
	if now.WholeCut != 1 || best.WholeCut != 0 {
		t.Errorf("%d joints run through the band with a whole first layer, %d with the best", now.WholeCut, best.WholeCut)
	}
	free, _, err := BestOffset(ctx, st, s, c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if free.JointMin < now.JointMin {
		t.Errorf("the smallest joint is %.0f mm², with a whole first layer %.0f", free.JointMin, now.JointMin)
	}
	if _, _, err := BestOffset(ctx, st, s, c, marks[1:]); err == nil {
		t.Error("marks of another surface are taken")
	}
}

// TestPick follows the wishes in their order.
func TestPick(t *testing.T) {
	a := Offset{FirstJoint: 0, WholeCut: 1, WholeMM: 10, JointMin: 1000, Layers: 5}
	b := Offset{FirstJoint: 4, WholeCut: 0, JointMin: 100, Layers: 6}
	c := Offset{FirstJoint: 6, WholeCut: 0, JointMin: 500, Layers: 6}
	d := Offset{FirstJoint: 8, WholeCut: 0, JointMin: 480, Layers: 5}
	e := Offset{FirstJoint: 10, WholeCut: 0, JointMin: 460, Layers: 5}
	for _, tt := range []struct {
		all  []Offset
		want Offset
	}{{[]Offset{a, b}, b}, {[]Offset{b, c}, c}, {[]Offset{c, d}, d}, {[]Offset{a, b, c, d, e}, e}, {[]Offset{a}, a}} {
		if got := pick(tt.all, 16); got != tt.want {
			t.Errorf("of %v got %v, want %v", tt.all, got, tt.want)
		}
	}
}
