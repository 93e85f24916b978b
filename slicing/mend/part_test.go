package mend

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// floor is an open sheet under the origin.
func floor(half, z float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	const k = 12
	for j := range k + 1 {
		for i := range k + 1 {
			x, y := float64(2*i-k)/k*half, float64(2*j-k)/k*half
			m.Points = append(m.Points, mesh.PointOf(geom.Vec{X: x, Y: y, Z: z}))
			if i < k && j < k {
				a := int32(j*(k+1) + i)
				m.Triangles = append(m.Triangles, mesh.Triangle{a, a + 1, a + k + 2}, mesh.Triangle{a, a + k + 2, a + k + 1})
			}
		}
	}
	return m
}

// A floor that was scanned with the piece is no reason to put the piece on a grid: it is left out, told with its place, and the
// piece's facets stay as they are.
func TestFloorIsLeftOutAlone(t *testing.T) {
	piece := solidtest.Bumpy(40, 8000)
	z := piece.Box().Min.Z - 5
	m := solidtest.Join(piece, floor(150, z))
	got := mended(t, m, Settings{}, 1)
	if got.Rebuilt || did(got, Sheet) != 1 {
		t.Errorf("rebuilt %v: %v", got.Rebuilt, got.Actions)
	}
	for _, a := range got.Actions {
		if a.Kind == Sheet && (math.Abs(a.At.Z-z) > 1 || math.Hypot(a.At.X, a.At.Y) > 1) {
			t.Errorf("the sheet is told to lie at %v", a.At)
		}
	}
	sameFacets(t, got.Mesh, piece)
}

// Of two pieces of which one can't be closed, the other stays as it is.
func TestOneOfTwoIsBuiltAnew(t *testing.T) {
	sound := solidtest.Moved(solidtest.Bumpy(40, 8000), geom.Vec{X: 300})
	fins := finned(solidtest.Sphere(50, 5000))
	got := mended(t, solidtest.Join(fins, sound), Settings{Resolution: 1}, 2)
	if !got.Rebuilt || got.ResolutionMm != 1 || did(got, RebuiltPart) != 1 {
		t.Errorf("rebuilt %v at %v: %v", got.Rebuilt, got.ResolutionMm, got.Actions)
	}
	wantVolume(t, got, sound.Volume()+ball(50), 0.005)
	sameFacets(t, got.Mesh, sound)
	// Where the two run through one another both are one portion, and the fins are built on a grid together with the other.
	both := solidtest.Join(fins, solidtest.Moved(sound, geom.Vec{X: -240}))
	if got = mended(t, both, Settings{Resolution: 1}, 1); !got.Rebuilt || did(got, Rebuilt) != 1 {
		t.Errorf("crossing: rebuilt %v: %v", got.Rebuilt, got.Actions)
	}
}

// Two open sheets that bound something only together, front and back of one scan, are built anew together.
func TestFrontAndBackAreOne(t *testing.T) {
	sphere := solidtest.Sphere(50, 20000)
	both := keeping(sphere, func(i int) bool { a, b, c := sphere.Corners(i); return math.Abs(a.Y+b.Y+c.Y) > 6 })
	sound := solidtest.Moved(solidtest.Bumpy(40, 8000), geom.Vec{X: 300})
	m := solidtest.Join(both, sound).Compact()
	b := &bench{m: m, adj: m.Adjacency(), set: Settings{MmPerUnit: 1, Resolution: 1}, report: func(string, float64) {}}
	done, err := b.rebuildOpen(t.Context())
	if err != nil || !done {
		t.Fatal(done, err)
	}
	checkSolid(t, b.m, 2)
	if v, want := b.m.Volume(), ball(50)+sound.Volume(); math.Abs(v/want-1) > 0.005 {
		t.Errorf("volume %g, want %g", v, want)
	}
	sameFacets(t, b.m, sound)
}

// sameFacets checks that m has all facets of a part, to the bit.
func sameFacets(t *testing.T, m, part *mesh.Mesh) {
	t.Helper()
	have := map[[3]geom.Vec]bool{}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		have[[3]geom.Vec{a, b, c}] = true
	}
	missing := 0
	for i := range part.Triangles {
		a, b, c := part.Corners(i)
		if !have[[3]geom.Vec{a, b, c}] {
			missing++
		}
	}
	if missing > 0 {
		t.Errorf("%d of %d facets are not as they were", missing, len(part.Triangles))
	}
}

// An edge along which two wedges of one solid touch, whose ends are inside the surface, is parted in its middle.
func TestEdgesThatTouchAreParted(t *testing.T) {
	// A bar of three blocks along X with a gap on either side of the middle edge of its top: two wedges over the gap touch only along that edge.
	box := func(x, y, z, a, b, c float64) *mesh.Mesh {
		return solidtest.Moved(solidtest.Box(a, b, c), geom.Vec{X: x, Y: y, Z: z})
	}
	m := solidtest.Join(box(0, 0, 0, 4, 4, 1), box(1, 1, 1, 1, 1, 1), box(2, 2, 1, 1, 1, 1), box(0, 0, 2, 4, 4, 1))
	got := mended(t, m, Settings{}, 1)
	wantVolume(t, got, 16+1+1+16, 1e-6)
	if got.Rebuilt || did(got, Untied) == 0 {
		t.Errorf("rebuilt %v: %v", got.Rebuilt, got.Actions)
	}
}
