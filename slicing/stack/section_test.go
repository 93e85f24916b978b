package stack

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func TestSectionsAgreeWithProfile(t *testing.T) {
	for _, tt := range []struct {
		name string
		mesh *mesh.Mesh
	}{
		{"box", solidtest.Turned(solidtest.Box(30, 20, 10), geom.TurnXYZ(20, 33, 5))},
		{"torus", solidtest.Torus(40, 12, 60, 30)},
		{"standing torus", solidtest.Turned(solidtest.Torus(40, 12, 120, 60), geom.TurnXYZ(90, 0, 0))},
		{"two balls", solidtest.Join(solidtest.Sphere(30, 3000), solidtest.Moved(solidtest.Sphere(20, 3000), geom.Vec{X: 60, Z: 10}))},
		{"shell", solidtest.Join(solidtest.Sphere(30, 3000), solidtest.Flip(solidtest.Sphere(20, 3000)))},
		{"bumpy", solidtest.Bumpy(100, 30000)},
		{"shuffled", solidtest.Shuffle(solidtest.Bumpy(100, 30000), 3)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := profileOf(t, tt.mesh)
			low, size := p.Bottom(), p.Top()-p.Bottom()
			_, most := p.Widest(low, p.Top())
			var planes []float64
			for i := range 41 {
				planes = append(planes, low+size*(float64(i)+0.5)/41)
			}
			sum := 0.0
			for _, s := range sectionsOf(t, tt.mesh, planes...) {
				name := fmt.Sprintf("at %.3f ", s.Z)
				agree(t, name+"area", s.Region.Area(), p.Area(s.Z), 1e-5, 1e-6*most)
				agree(t, name+"perimeter", s.Region.Perimeter(), p.Perimeter(s.Z), 1e-4, 1e-5*math.Sqrt(most))
				first := p.Moment(s.Z-size*1e-5, s.Z+size*1e-5).Scale(1 / (size * 2e-5))
				if c, ok := s.Region.Centroid(); ok {
					agree(t, name+"centre X", c.X*s.Region.Area(), first.X, 0, 1e-4*most*size)
					agree(t, name+"centre Y", c.Y*s.Region.Area(), first.Y, 0, 1e-4*most*size)
				}
				if s.Open != 0 {
					t.Errorf("%s: %d open", name, s.Open)
				}
				sum += s.Region.Area() * size / 41
			}
			// Cavalieri: equal sections at every height make equal volumes; by midpoints to about (1/41)².
			agree(t, "areas by heights", sum, p.Volume(low, p.Top()), 2e-3, 0)
		})
	}
}

func TestSectionsOfKnownSolids(t *testing.T) {
	ring := sectionsOf(t, solidtest.Torus(40, 12, 400, 200), 3)[0].Region
	if len(ring) != 2 || ring[0].Area()*ring[1].Area() >= 0 {
		t.Fatalf("torus: got %d rings, want an outline and a hole", len(ring))
	}
	agree(t, "torus", ring.Area(), 4*math.Pi*40*math.Sqrt(144-9), 3e-4, 0) // 4πR√(r²-z²)
	agree(t, "torus rim", ring.Perimeter(), 4*math.Pi*40, 3e-4, 0)

	e := sectionsOf(t, solidtest.Ellipsoid(30, 20, 10, 50000), 6)[0].Region
	agree(t, "ellipsoid", e.Area(), math.Pi*600*0.64, 1e-3, 0) // πab(1-z²/c²)

	cube := placed(t, solidtest.Box(10, 10, 10), geom.TurnTo(geom.Vec{X: 1, Y: 1, Z: 1}, geom.Vec{Z: 1}), 1).Mesh
	hexagon := sectionsOf(t, cube, 5*math.Sqrt(3))[0].Region
	agree(t, "hexagon", hexagon.Area(), 3*math.Sqrt(3)/2*50, 1e-6, 0)
}

// Planes through vertices, edges and flat faces: the section is the one just below.
func TestSectionsAtDegeneratePlanes(t *testing.T) {
	steps := stepped(40, 20, 16, 16)
	ridge := solidtest.Turned(solidtest.Box(10, 10, 10), geom.TurnXYZ(45, 0, 0)) // edges upright like a roof
	top := float64(ridge.Box().Max.Z)
	ball := solidtest.Sphere(50, 3000)
	for _, tt := range []struct {
		name  string
		mesh  *mesh.Mesh
		z     float64
		area  float64
		rings int
	}{
		{"floor", steps, 0, 0, 0},
		{"step", steps, 16, 1600, 1},
		{"over the step", steps, math.Nextafter(16, 17), 400, 1},
		{"top", steps, 32, 400, 1},
		{"over the top", steps, 33, 0, 0},
		{"ridge", ridge, top, 0, 0},
		{"widest edge", ridge, (top + float64(ridge.Box().Min.Z)) / 2, 100 * math.Sqrt2, 1},
		{"pole", ball, 50, 0, 0},
		{"equator of vertices", ball, 0, math.NaN(), 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := sectionsOf(t, tt.mesh, tt.z)[0]
			if len(s.Region) != tt.rings || s.Open != 0 {
				t.Fatalf("got %d rings and %d open, want %d and none", len(s.Region), s.Open, tt.rings)
			}
			if want := tt.area; !math.IsNaN(want) {
				agree(t, "area", s.Region.Area(), want, 1e-6, 1e-9)
			}
		})
	}
	// Every vertex height of a ball and of a ring, against the profile.
	for _, m := range []*mesh.Mesh{solidtest.Sphere(50, 1200), solidtest.Turned(solidtest.Torus(40, 12, 24, 12), geom.TurnXYZ(90, 0, 0))} {
		p := profileOf(t, m)
		var planes []float64
		for _, v := range m.Points {
			planes = append(planes, float64(v[2]))
		}
		for _, s := range sectionsOf(t, m, planes...) {
			agree(t, fmt.Sprintf("at %g", s.Z), s.Region.Area(), p.AreaBelow(s.Z), 1e-6, 1e-2)
			if s.Open != 0 {
				t.Fatalf("at %g: %d open", s.Z, s.Open)
			}
		}
	}
}

func TestSectionsOnEitherSideOfStep(t *testing.T) {
	turn := geom.TurnXYZ(17, 40, 80)
	m := solidtest.Turned(solidtest.Turned(stepped(40, 20, 16, 16), turn), turn.Inverse()) // no longer quite flat
	s := NewSlicer(m, twins(m))
	below, err := s.SectionsBelow(ctx, []float64{16})
	if err != nil {
		t.Fatal(err)
	}
	above, err := s.SectionsAbove(ctx, []float64{16})
	if err != nil {
		t.Fatal(err)
	}
	agree(t, "below", below[0].Region.Area(), 1600, 1e-5, 0)
	agree(t, "above", above[0].Region.Area(), 400, 1e-5, 0)
	if below[0].Z != 16 || above[0].Z != 16 {
		t.Error("heights are not those asked for")
	}
}

func TestSectionsInAnyOrder(t *testing.T) {
	m := solidtest.Bumpy(100, 20000)
	up := sectionsOf(t, m, -40, -40, 0, 3, 77, 400)
	down := sectionsOf(t, m, 400, 77, 3, 0, -40, -40)
	for i := range up {
		if !reflect.DeepEqual(up[i], down[len(down)-1-i]) {
			t.Errorf("plane %g: differs with the order asked", up[i].Z)
		}
	}
	if got := sectionsOf(t, m); len(got) != 0 {
		t.Errorf("no planes: got %d sections", len(got))
	}
}

func TestSameOnAnyNumberOfCores(t *testing.T) {
	m := solidtest.Bumpy(100, 400000)
	planes := []float64{-40, -20, 0, 20, 40}
	slabs := []Slab{{1, -60, -20, -60}, {2, -20, 20, -20}, {3, 20, 60, 20}}
	run := func(cores int) (out []any) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		p := profileOf(t, m)
		slicer := NewSlicer(m, m.Adjacency())
		d, err := Divide(ctx, slicer, slabs)
		s, err2 := slicer.Sections(ctx, planes)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		return []any{p.nodes, p.levels, d.Parts, d.part, s}
	}
	if !reflect.DeepEqual(run(1), run(3)) {
		t.Error("one core and three give different bits")
	}
}

func TestOpenMesh(t *testing.T) {
	m := solidtest.Sphere(50, 60000) // edges of about 1 mm
	var one, most mesh.Mesh
	one.Points, most.Points = m.Points, m.Points
	for i, tri := range m.Triangles {
		a, b, c := m.Corners(i)
		mid := a.Add(b).Add(c).Scale(1.0 / 3)
		if i%97 != 0 { // small holes, no two beside each other
			one.Triangles = append(one.Triangles, tri)
		}
		if mid.X < 30 { // one big hole
			most.Triangles = append(most.Triangles, tri)
		}
	}
	whole := sectionsOf(t, m, 0.3)[0].Region.Area()
	open := 0
	for _, z := range []float64{-30, -9, 0.3, 11, 27} {
		s := sectionsOf(t, &one, z)[0]
		open += s.Open
		agree(t, "small holes bridged", s.Region.Area(), sectionsOf(t, m, z)[0].Region.Area(), 5e-3, 0)
	}
	if open == 0 {
		t.Error("small holes: no break was counted")
	}
	s := sectionsOf(t, &most, 0.3)[0]
	if s.Open == 0 || len(s.Region) != 0 {
		t.Errorf("big hole: got %d open and %d rings (whole %g)", s.Open, len(s.Region), whole)
	}
}

// The bits of a point depend on the edge alone, not on the triangle that it is reckoned from.
func TestTwinsGiveSameBits(t *testing.T) {
	m := solidtest.Bumpy(100, 3000)
	adj := twins(m)
	w := &walker{slicer: NewSlicer(m, adj)}
	for e, twin := range adj {
		p := w.crossing(7.3, int32(e)/3, int32(e)%3)
		if q := w.crossing(7.3, twin/3, twin%3); p != q {
			t.Fatalf("edge %d: %v and %v", e, p, q)
		}
	}
}
