package job_test

import (
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
)

// TestInsideOutLayersAreWithheld: a block whose upper end is drawn through itself holds less than nothing there.
func TestInsideOutLayersAreWithheld(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	m := solidtest.Moved(solidtest.Box(100, 70, 80), geom.Vec{X: -50, Y: -35})
	points := make([]mesh.Point, len(m.Points))
	for i, p := range m.Points {
		if points[i] = p; p[2] > 0 {
			points[i][0] = -0.6 * p[0]
		}
	}
	f, err := job.Settle(t.Context(), standing(t, &mesh.Mesh{Points: points, Triangles: m.Triangles}, s), s, c)
	if err != nil || !strings.Contains(f.Withheld.String(), "runs through itself") {
		t.Errorf("not withheld: %q, %v, %.1f mm³ of wood", f.Withheld, err, f.Totals.Wood)
	}
}

// TestCrossingPiecesAreWithheld: of two balls that run through one another and are left as they were read nothing is told that
// needs an inside, though no layer holds less than nothing; two balls side by side are solid.
func TestCrossingPiecesAreWithheld(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Mend.Off = 0, true
	ball := solidtest.Sphere(50, 2000)
	for _, tt := range []struct {
		apart   float64
		crosses bool
	}{{60, true}, {101, false}} {
		raw := job.NewPiece("balls", solidtest.Join(ball, solidtest.Moved(ball, geom.Vec{X: tt.apart})), mesh.Raw{})
		p, err := raw.Mend(t.Context(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if p.Findings.Crosses != tt.crosses || p.Solid() == tt.crosses || p.Mesh != raw.Mesh || raw.Findings.Crosses || (p == raw) == tt.crosses {
			t.Errorf("%v mm apart: %+v", tt.apart, p.Findings)
		}
		st, err := job.Stand(t.Context(), p, s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		f, err := job.Settle(t.Context(), st, s, c)
		if err != nil || strings.Contains(f.Withheld.String(), "runs through itself") != tt.crosses || (f.Totals.Wood > 0) == tt.crosses {
			t.Errorf("%v mm apart: withheld %q, %v, %.1f mm³ of wood", tt.apart, f.Withheld, err, f.Totals.Wood)
		}
		r, err := report.New(t.Context(), st, f, 0)
		if err == nil {
			err = r.AddSurvey(t.Context(), p, 1)
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, of := range []report.Piece{r.Piece, r.Scan} {
			if of.Solid == tt.crosses || (of.VolumeCm3 == nil) != tt.crosses || (len(of.Findings) > 0) != tt.crosses {
				t.Errorf("%v mm apart the report has %+v", tt.apart, of)
			}
		}
	}
}
