package job_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

func standing(t testing.TB, m *mesh.Mesh, s job.Settings) *job.Standing {
	return jobtest.Standing(t, m, s)
}

func settle(t testing.TB, st *job.Standing, s job.Settings, c *stock.Catalogue) *job.Figures {
	return jobtest.Settled(t, st, s, c)
}

func near(t testing.TB, what string, got, want, share float64) {
	jobtest.Near(t, what, got, want, share)
}

// TestShellOfKnownWall: a sphere of radius 50 with a wall of 8 keeps 4/3·π·(50³ - 42³) = 213,260 mm³ (volume of a sphere,
// any handbook), its weight follows from the board's density.
func TestShellOfKnownWall(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.CapBottom, s.CapTop = 8, 0, 0
	f := settle(t, standing(t, solidtest.Sphere(50, 200_000), s), s, c)
	want := 4.0 / 3 * math.Pi * (50*50*50 - 42*42*42)
	near(t, "wood", f.Totals.Wood, want, 0.002)
	board, _ := s.BoardIn(c)
	near(t, "weight of the wood", f.Totals.WoodKg, want*board.Density*1e-9, 0.002)
	sum := 0.0
	for _, l := range f.Layers {
		sum += l.Wood + l.Core
	}
	near(t, "layers together", sum, 4.0/3*math.Pi*50*50*50, 0.001)
}

// TestJointsOfASphere: a joint of a solid sphere at height h above the centre is a disc of area π·(R² - h²).
func TestJointsOfASphere(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	f := settle(t, standing(t, solidtest.Sphere(50, 200_000), s), s, c)
	for _, l := range f.Layers[1:] {
		h := l.Bottom - 50
		near(t, "joint", l.Joint, math.Pi*(2500-h*h), 0.002)
		if len(l.Parts) != 1 {
			t.Errorf("layer %d has %d parts, want 1", l.Number, len(l.Parts))
		}
	}
}

// TestTurningChangesNoTotal: a solid weighs the same however it stands and is cut.
func TestTurningChangesNoTotal(t *testing.T) {
	c := stocktest.Catalogue(t)
	m := solidtest.Bumpy(60, 40_000)
	for _, turn := range []geom.Turn{geom.NoTurn(), geom.TurnXYZ(90, 0, 0), geom.TurnXYZ(17, -35, 111)} {
		s := job.Default(c)
		s.Turn, s.Wall = turn, 0
		for _, thickness := range []float64{9, 14.3, 16} {
			for _, first := range []float64{0, 5} {
				s = s.WithLayer(c, thickness)
				s.FirstJoint = first
				f := settle(t, standing(t, m, s), s, c)
				near(t, "wood", f.Totals.Wood, m.Volume(), 1e-5)
			}
		}
	}
}

// TestThickerWallNeverWeighsLess, for both kinds of hollow.
func TestThickerWallNeverWeighsLess(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	st := standing(t, solidtest.Bumpy(90, 60_000), s)
	for _, kind := range []job.CoreKind{job.Carved, job.Straight} {
		last := 0.0
		for wall := 2.0; wall < 60; wall += 3.7 {
			s.Core, s.Wall = kind, wall
			kg := settle(t, st, s, c).Totals.WoodKg
			if kg < last-1e-9 {
				t.Errorf("%v core: a wall of %.1f weighs %.4f kg, a thinner one %.4f", kind, wall, kg, last)
			}
			last = kg
		}
	}
}

// TestOpenMeshIsWithheld: what needs a solid is not computed from an open surface.
func TestOpenMeshIsWithheld(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	whole := solidtest.Sphere(50, 5000)
	open := &mesh.Mesh{Points: whole.Points, Triangles: whole.Triangles[:len(whole.Triangles)-40]}
	st := standing(t, open, s)
	f, err := job.Settle(context.Background(), st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	if f.Withheld.None() || f.Totals != (job.Totals{}) {
		t.Errorf("an open mesh gives figures: %+v", f.Totals)
	}
	r, err := report.New(context.Background(), st, f, 0)
	if err != nil {
		t.Fatal(err)
	}
	if r.Piece.Solid || r.Piece.VolumeCm3 != nil || r.Totals != nil || r.Piece.OpenEdges == 0 {
		t.Errorf("the report of an open mesh claims a solid: %+v", r.Piece)
	}
}

// TestWrongUnitIsCaught: a piece that would take thousands of layers is not stacked.
func TestWrongUnitIsCaught(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Scale = 1000
	f, err := job.Instant(context.Background(), standing(t, solidtest.Sphere(50, 5000), s), s, c)
	if err != nil || f.Withheld.None() || len(f.Layers) > 0 {
		t.Errorf("a piece of 100 m: withheld %q, %d layers, %v", f.Withheld, len(f.Layers), err)
	}
}
