package carve_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// rod is a round rod of radius r and length h with its middle at the origin, along Z, then turned.
func rod(r, h float64, t geom.Turn) *mesh.Mesh {
	return solidtest.Turned(solidtest.Moved(solidtest.Frustum(r, r, h, sides), geom.Vec{Z: -h / 2}), t)
}

const sides = 360

// flat is how much smaller a regular polygon is than its circle.
var flat = sides / (2 * math.Pi) * math.Sin(2*math.Pi/sides)

// block is a block with its middle at the origin.
func block(a, b, c float64) *mesh.Mesh {
	return solidtest.Moved(solidtest.Box(a, b, c), geom.Vec{X: -a / 2, Y: -b / 2, Z: -c / 2})
}

func disc(r, z0, z1 float64) *mesh.Mesh {
	return solidtest.Moved(solidtest.Frustum(r, r, z1-z0, sides), geom.Vec{Z: z0})
}

// bore drills a body out of another one: wood is where more surfaces have been entered than left.
func bore(m, hole *mesh.Mesh) *mesh.Mesh { return solidtest.Join(m, solidtest.Flip(hole)) }

// TestTrapped holds the trapped volume against closed formulas; all are integrals of what lies between the first and the
// last wood of upright lines, derived here.
func TestTrapped(t *testing.T) {
	const r, R = 5.0, 20.0
	theta := 50 * math.Pi / 180
	a, thick := r/math.Cos(theta), 40.0
	for _, tt := range []struct {
		name      string
		solid     *mesh.Mesh
		thickness float64
		want      float64
		within    float64
	}{
		{"sphere in one layer", solidtest.Sphere(R, 20000), 2 * R, 0, 0},
		{"sphere in many layers", solidtest.Sphere(R, 20000), 7, 0, 0},
		// The hole's whole volume: wood lies above and below all of it.
		{"level hole in one layer", bore(block(60, 40, 30), rod(r, 50, geom.TurnXYZ(90, 0, 0))), 30, math.Pi * r * r * 40 * flat, 0.002},
		// A joint through the middle opens it to both sides.
		{"level hole cut by a joint", bore(block(60, 40, 30), rod(r, 50, geom.TurnXYZ(90, 0, 0))), 15, 0, 0},
		{"upright hole", bore(block(60, 40, 30), rod(r, 50, geom.NoTurn())), 30, 0, 0},
		// A hole of radius r that leans by theta through a plate: each horizontal section is an ellipse with half axes
		// a = r/cos theta and r. With c = a·sqrt(1-y²/r²), a line that meets wood above and below is in the hole over
		// 2c/tan theta, and there are thick·tan theta - 2c of them side by side.
		{"leaning hole", bore(block(150, 40, thick), rod(r, 200, geom.TurnXYZ(0, 50, 0))), thick,
			math.Pi*a*r*thick*flat - 16*a*a*r/(3*math.Tan(theta)), 0.004},
		// Nothing under the cap of a mushroom is hidden from below, unless it stands on a foot.
		{"mushroom", solidtest.Join(disc(r, 0, 20), disc(R, 18, 28)), 28, 0, 0},
		{"mushroom on a foot", solidtest.Join(disc(r, 0, 20), disc(R, 18, 28), disc(12, -6, 1)), 34,
			math.Pi * (12*12 - r*r) * 17 * flat, 0.01},
		{"torus lying", solidtest.Torus(R, r, 360, 180), 2 * r, 0, 0},
		// Standing: the plane at y cuts a ring of radii R ± s, s = sqrt(r²-y²), and hides pi·(R-s)² of air.
		{"torus standing", solidtest.Turned(solidtest.Torus(R, r, 720, 360), geom.TurnXYZ(90, 0, 0)), 2 * (R + r),
			math.Pi * (2*r*R*R - math.Pi*R*r*r + 4.0/3*r*r*r), 0.005},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := place(t, tt.solid)
			slabs := layers(t, p.Box.Size().Z, tt.thickness)
			if tt.name == "leaning hole" || tt.name == "upright hole" { // the drill sticks out at both ends
				mid := p.Box.Center().Z
				slabs = []stack.Slab{{Number: 1, Bottom: mid - tt.thickness/2, Top: mid + tt.thickness/2}}
			}
			wood, outside, core := sums(reach(t, p.Mesh, slabs, carve.Options{Step: 0.2}))
			if core != 0 {
				t.Errorf("%g mm³ in the core of a solid piece", core)
			}
			if tt.want == 0 {
				if outside > 1e-6*wood {
					t.Errorf("got %g mm³ trapped, want none", outside)
				}
				return
			}
			near(t, "trapped", outside, tt.want, tt.within)
		})
	}
}

// TestQuick holds the coarse figure against the fine one.
func TestQuick(t *testing.T) {
	m := solidtest.Turned(solidtest.Torus(60, 20, 360, 180), geom.TurnXYZ(90, 0, 0))
	for _, deg := range []float64{0, 20, 45, 70, 90} {
		s := stack.Stand{Turn: geom.TurnXYZ(deg, 10, 0), Scale: 1.5}
		p, err := stack.Place(context.Background(), m, s)
		if err != nil {
			t.Fatal(err)
		}
		_, want, _ := sums(reach(t, p.Mesh, layers(t, p.Box.Size().Z, 100), carve.Options{}))
		gaps, err := carve.FindGaps(context.Background(), mesh.Thin(m, 2), s, carve.QuickStep)
		if err != nil {
			t.Fatal(err)
		}
		got := gaps.Trapped(100, 100)
		t.Logf("%g degrees: %.0f mm³, quickly %.0f", deg, want, got)
		if math.Abs(got-want) > 0.06*want+500 {
			t.Errorf("%g degrees: got %.0f mm³, want %.0f", deg, got, want)
		}
	}
}

// TestGapsOfLayers: for every thickness and first joint the gaps come to what the columns of the layers do, but for their
// coarser columns; and near a place there is only what lies there.
func TestGapsOfLayers(t *testing.T) {
	m := solidtest.Turned(solidtest.Torus(60, 20, 180, 90), geom.TurnXYZ(90, 0, 0))
	s := stack.Stand{Turn: geom.TurnXYZ(0, 25, 0), Scale: 1}
	p, err := stack.Place(context.Background(), m, s)
	if err != nil {
		t.Fatal(err)
	}
	gaps, err := carve.FindGaps(context.Background(), m, s, 1)
	if err != nil {
		t.Fatal(err)
	}
	height := p.Box.Size().Z
	for _, tt := range [][2]float64{{100, 100}, {100, 30}, {40, 40}, {40, 13}, {16, 16}, {16, 5}, {300, 300}} {
		slabs, err := stack.Layers(height, tt[0], tt[1])
		if err != nil {
			t.Fatal(err)
		}
		_, want, _ := sums(reach(t, p.Mesh, slabs, carve.Options{Step: 1, Thickness: tt[0]}))
		if got := gaps.Trapped(tt[0], tt[1]); math.Abs(got-want) > 0.002*want+5 {
			t.Errorf("layers of %g mm from %g mm: %.0f mm³, want %.0f", tt[0], tt[1], got, want)
		}
	}
	for _, t0 := range []float64{300, 40, 16, 9.3} {
		joints, trapped := gaps.ByJoint(t0, 0.5)
		for k, at := range joints {
			if want := gaps.Trapped(t0, at); math.Abs(trapped[k]-want) > 1e-4*want+0.1 {
				t.Fatalf("layers of %g mm from %g mm: %.1f mm³, want %.1f", t0, at, trapped[k], want)
			}
		}
		if n := len(joints); joints[n-1] != t0 || joints[0] != 0.5 {
			t.Errorf("layers of %g mm: first joints %v", t0, joints)
		}
	}
	all := gaps.Trapped(300, 300)
	for _, tt := range []struct {
		at          geom.Vec
		reach       float64
		least, most float64
	}{{geom.Vec{}, 1000, all, all}, {geom.Vec{X: 500}, 100, 0, 0}, {geom.Vec{}, 15, 1, all / 2}} {
		if got := gaps.Near([]geom.Vec{tt.at}, tt.reach).Largest(300, 300); got < tt.least-1e-6*all || got > tt.most+1e-6*all {
			t.Errorf("within %g mm of %v: %g of %g mm³", tt.reach, tt.at, got, all)
		}
	}
}

// TestLargestOfGaps: the largest connected place by the gaps is the largest body by the columns of the layers.
func TestLargestOfGaps(t *testing.T) {
	m := solidtest.Join(solidtest.Turned(solidtest.Torus(60, 20, 180, 90), geom.TurnXYZ(90, 0, 0)),
		solidtest.Moved(solidtest.Turned(solidtest.Torus(40, 15, 180, 90), geom.TurnXYZ(80, 0, 0)), geom.Vec{X: 150}))
	s := stack.Stand{Turn: geom.TurnXYZ(0, 25, 0), Scale: 1}
	p, err := stack.Place(context.Background(), m, s)
	if err != nil {
		t.Fatal(err)
	}
	gaps, err := carve.FindGaps(context.Background(), p.Mesh, stack.Stand{Turn: geom.NoTurn(), Scale: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	all := gaps.Near([]geom.Vec{{}}, 1e4)
	for _, tt := range [][2]float64{{200, 200}, {100, 30}, {40, 40}, {40, 13}, {16, 16}, {16, 5}} {
		slabs, err := stack.Layers(p.Box.Size().Z, tt[0], tt[1])
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		for _, l := range reach(t, p.Mesh, slabs, carve.Options{Step: 1, Thickness: tt[0]}) {
			if b := l.Outside.Bodies(0); len(b) > 0 {
				want = max(want, b[0].Volume)
			}
		}
		if got := all.Largest(tt[0], tt[1]); math.Abs(got-want) > 0.001*want+1 {
			t.Errorf("layers of %g mm from %g mm: %.0f mm³, want %.0f", tt[0], tt[1], got, want)
		}
	}
}

// BenchmarkFindGaps asks for one stand of a thinned piece of about 50,000 triangles.
func BenchmarkFindGaps(b *testing.B) {
	m := solidtest.Bumpy(100, 50_000)
	size := m.Box().Size()
	m = solidtest.Stretch(m, 400/size.X, 300/size.Y, 250/size.Z)
	s := stack.Stand{Turn: geom.TurnXYZ(20, 30, 0), Scale: 1}
	for b.Loop() {
		if _, err := carve.FindGaps(context.Background(), m, s, carve.QuickStep); err != nil {
			b.Fatal(err)
		}
	}
}
