package field

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestBallShell: a ball of radius 50 with a wall of 8 keeps a shell of 213,259.687 mm³ (4π/3 (R³-(R-w)³)). At 128 cells the
// table is to be within 0.1 %; measured 0.02 %.
func TestBallShell(t *testing.T) {
	g := build(t, solidtest.Sphere(50, 200_000), 128)
	for _, turn := range []geom.Turn{geom.NoTurn(), geom.TurnXYZ(90, 0, 0), geom.TurnXYZ(20, 10, 30)} {
		tb := table(t, g, geom.Placement{Turn: turn, Scale: 1, Shift: geom.Vec{Z: 50}}, 100)
		shell := 4*math.Pi/3*50*50*50 - tb.CoreVolume(0, 100, 8)
		near(t, "shell", shell, 213259.687, 213259.687*0.001)
		t.Logf("shell is %.4f %% off", (shell/213259.687-1)*100)
		for _, w := range []float64{2, 5, 12, 20, 30} {
			r := 50 - w
			near(t, "core", tb.CoreVolume(0, 100, w), 4*math.Pi/3*r*r*r, 0.0003*523599)
			near(t, "core's skin", tb.CoreSurface(0, 100, w), 4*math.Pi*r*r, 0.01*4*math.Pi*r*r)
			near(t, "middle section", tb.CoreArea(50, w), math.Pi*r*r, 0.005*math.Pi*r*r)
			// A cap of height h cut from a ball: πh²(3r-h)/3 (handbook).
			h := r / 2
			near(t, "cap", tb.CoreVolume(50+r-h, 100, w), math.Pi*h*h*(3*r-h)/3, 0.0003*523599)
		}
		// The centre of a half ball lies 3r/8 above its base (handbook).
		c := tb.CoreMoment(50, 100, 8).Scale(1 / tb.CoreVolume(50, 100, 8))
		near(t, "centre of the upper half", c.Z, 50+42*3./8, 0.1)
		near(t, "centre's x", c.X, 0, 0.1)
	}
}

// TestBlockCore: the core of a block is (a-2w)(b-2w)(c-2w), standing on any face and turned askew; errors are shares of the
// whole block.
func TestBlockCore(t *testing.T) {
	m := solidtest.Box(100, 70, 40)
	askew := geom.TurnXYZ(17, 31, 43)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		turn geom.Turn
	}{
		{"flat", m, geom.NoTurn()},
		{"on its side", m, geom.TurnXYZ(90, 0, 0)},
		{"askew stand", m, askew},
		{"askew to the grid", solidtest.Turned(m, askew), askew.Inverse()},
	} {
		g := build(t, tt.m, 128)
		pl, h := stood(g, tt.turn, 1)
		tb := table(t, g, pl, h)
		for _, w := range []float64{2, 5, 8, 12, 15, 19} {
			want := (100 - 2*w) * (70 - 2*w) * (40 - 2*w)
			near(t, tt.name, tb.CoreVolume(0, h, w), want, 0.0005*280_000)
		}
		if v := tb.CoreVolume(0, h, 25); v != 0 {
			t.Errorf("%s: a core of %v where none fits", tt.name, v)
		}
	}
}

// TestSlabsOfTurnedPiece: the same layers from a piece turned before its grid is made and from one turned by its placement.
func TestSlabsOfTurnedPiece(t *testing.T) {
	m, turn := solidtest.Bumpy(50, 100_000), geom.TurnXYZ(25, -40, 15)
	turned := solidtest.Turned(m, turn)
	a, b := build(t, m, 128), build(t, turned, 128)
	shift := geom.Vec{Z: -b.solid.Min.Z}
	h := b.solid.Size().Z
	ta := table(t, a, geom.Placement{Turn: turn, Scale: 1, Shift: shift}, h)
	tb := table(t, b, geom.Placement{Turn: geom.NoTurn(), Scale: 1, Shift: shift}, h)
	whole := ta.CoreVolume(0, h, 0)
	for _, w := range []float64{3, 6, 10, 15} {
		for z := 0.0; z < h; z += 8 {
			near(t, "layer", ta.CoreVolume(z, z+8, w), tb.CoreVolume(z, z+8, w), 0.0003*whole)
		}
		near(t, "core", ta.CoreVolume(0, h, w), tb.CoreVolume(0, h, w), 0.0005*whole)
		ca := ta.CoreMoment(0, h, w).Scale(1 / ta.CoreVolume(0, h, w))
		cb := tb.CoreMoment(0, h, w).Scale(1 / tb.CoreVolume(0, h, w))
		near(t, "way between the cores' centres", ca.Sub(cb).Len(), 0, 0.1)
	}
}

// TestScale: a piece twice as large has eight times the core at twice the wall.
func TestScale(t *testing.T) {
	g := build(t, solidtest.Bumpy(50, 20_000), 60)
	one, h := stood(g, geom.TurnXYZ(30, 0, 0), 1)
	two, h2 := stood(g, geom.TurnXYZ(30, 0, 0), 2)
	a, b := table(t, g, one, h), table(t, g, two, h2)
	for _, w := range []float64{0, 3, 9} {
		near(t, "core", b.CoreVolume(20, 60, 2*w), 8*a.CoreVolume(10, 30, w), 1e-4*a.CoreVolume(0, h, 0))
	}
}

// TestThickerWallNeverLessWood must hold exactly, and so must the sum of slabs.
func TestThickerWallNeverLessWood(t *testing.T) {
	g := build(t, solidtest.Bumpy(50, 20_000), 60)
	pl, h := stood(g, geom.TurnXYZ(10, 20, 30), 1.37)
	tb := table(t, g, pl, h)
	rnd := rand.New(rand.NewSource(4))
	for range 2000 {
		z0 := rnd.Float64() * h
		z1 := z0 + rnd.Float64()*20
		last, w := math.Inf(1), 0.0
		for range 50 {
			v := tb.CoreVolume(z0, z1, w)
			if v > last || v < 0 {
				t.Fatalf("between %v and %v a wall of %v leaves a core of %v, a thinner one %v", z0, z1, w, v, last)
			}
			last = v
			w += rnd.Float64() * rnd.Float64()
		}
	}
	for _, w := range []float64{0, 3, 7.7} {
		sum, z := 0.0, 0.0
		for _, top := range []float64{3.3, 12, 12.001, 40, h} {
			sum += tb.CoreVolume(z, top, w)
			z = top
		}
		near(t, "sum of slabs", sum, tb.CoreVolume(0, h, w), 1e-9*sum)
	}
}

// TestNoJumps: a wall or a height that moves by a thousandth of a millimetre moves the core by what its skin and section say:
// the sides of the block, and the core's flat bottom once the wall has passed the slab's lower face.
func TestNoJumps(t *testing.T) {
	const sides, bottom = 2 * (100 + 70) * 16, (100 - 16) * (70 - 16)
	g := build(t, solidtest.Box(100, 70, 40), 50)
	tb := table(t, g, still, 40)
	for w := 0.0; w < 15; w += 0.001 {
		if d := tb.CoreVolume(8, 24, w) - tb.CoreVolume(8, 24, w+0.001); d > 1.5*0.001*(sides+bottom) {
			t.Fatalf("at a wall of %v a thousandth takes %v mm³", w, d)
		}
	}
	for z := 5.0; z < 35; z += 0.001 {
		if d := tb.CoreVolume(5, z+0.001, 3) - tb.CoreVolume(5, z, 3); d > 2*0.001*7000 {
			t.Fatalf("at %v a thousandth of height adds %v mm³", z, d)
		}
	}
}

// TestTableEdges: heights beyond the piece, empty slabs and odd walls.
func TestTableEdges(t *testing.T) {
	g := build(t, solidtest.Box(100, 70, 40), 50)
	tb := table(t, g, still, 40)
	all := tb.CoreVolume(0, 40, 5)
	for _, tt := range []struct{ z0, z1, wall, want float64 }{
		{-100, 100, 5, all},
		{math.Inf(-1), math.Inf(1), 5, all},
		{20, 20, 5, 0},
		{30, 20, 5, 0},
		{math.NaN(), 20, 5, 0},
		{40, 80, 5, 0},
		{0, 40, 1e300, 0},
		{0, 40, -3, tb.CoreVolume(0, 40, 0)},
	} {
		if v := tb.CoreVolume(tt.z0, tt.z1, tt.wall); v != tt.want {
			t.Errorf("core from %v to %v at a wall of %v is %v, want %v", tt.z0, tt.z1, tt.wall, v, tt.want)
		}
	}
	if m := tb.CoreMoment(0, 40, 1000); m != (geom.Vec{}) {
		t.Errorf("no core has moment %v", m)
	}
	for _, h := range []float64{0, -1, math.NaN(), math.Inf(1), 1e12} {
		if _, err := NewTable(context.Background(), g, still, h); err == nil {
			t.Errorf("a stand %v high passes", h)
		}
	}
	if _, err := NewTable(context.Background(), g, geom.Placement{Turn: geom.NoTurn()}, 40); err == nil {
		t.Error("a stand of scale 0 passes")
	}
}
