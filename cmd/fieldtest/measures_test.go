package fieldtest

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// boxes is a solid of boxes given by their lower corner and size; one with a negative height is a hole, seen from within.
func boxes(t *testing.T, all ...[6]float64) *solid {
	t.Helper()
	var m mesh.Mesh
	for _, b := range all {
		one := solidtest.Moved(solidtest.Box(b[3], b[4], math.Abs(b[5])), geom.Vec{X: b[0], Y: b[1], Z: b[2]})
		from := int32(len(m.Points))
		m.Points = append(m.Points, one.Points...)
		for _, f := range one.Triangles {
			f = [3]int32{f[0] + from, f[1] + from, f[2] + from}
			if b[5] < 0 {
				f[0], f[1] = f[1], f[0]
			}
			m.Triangles = append(m.Triangles, f)
		}
	}
	var text bytes.Buffer
	if err := mesh.WriteSTL(&text, &m); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "boxes.stl")
	if err := os.WriteFile(file, text.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := readSTL(file)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSolids measures solids that are known.
func TestSolids(t *testing.T) {
	s := boxes(t, [6]float64{0, 0, 0, 10, 20, 30}, [6]float64{50, 0, 0, 1, 2, 3}, [6]float64{2, 2, 2, 2, 2, -2})
	if got := s.volume(); math.Abs(got-(6000+6-8)) > 1e-6 || s.open() != 0 {
		t.Errorf("%g mm³ with %d open edges", got, s.open())
	}
	if got := s.bodies(); len(got) != 3 || math.Abs(got[0].volume-6000) > 1e-6 || math.Abs(got[2].volume+8) > 1e-6 {
		t.Errorf("bodies of %v mm³", got)
	}
	if got := newProber(s, 1).wood(3, 3); len(got) != 2 || math.Abs(got[0].high-2) > 1e-6 || math.Abs(got[1].low-4) > 1e-6 {
		t.Errorf("wood %v", got)
	}
	s.facets = s.facets[1:]
	if s.open() != 3 {
		t.Errorf("%d open edges without a facet", s.open())
	}
}

// TestSection measures a tab that is whole and one whose two ends have little height in common.
func TestSection(t *testing.T) {
	whole := newProber(boxes(t, [6]float64{-5, 0, 0, 40, 8, 6}), 1)
	if got, _ := section(whole, place{0, 4}, place{20, 4}, 8); math.Abs(got-48) > 0.5 {
		t.Errorf("a whole tab has %.1f mm²", got)
	}
	cut := newProber(boxes(t, [6]float64{-5, 0, 0, 15, 8, 6}, [6]float64{10, 0, 5, 20, 8, 6}), 1)
	if got, at := section(cut, place{0, 4}, place{20, 4}, 8); math.Abs(got-8) > 0.5 || math.Abs(at.x-10) > 0.3 {
		t.Errorf("a tab of two ends that share 1 mm has %.1f mm² at %.1f mm", got, at.x)
	}
}

// TestPinWrong looks at pins in sound wood, beside an edge, under thin wood and in the air.
func TestPinWrong(t *testing.T) {
	// Square holes round the circle: 8 mm wide, 10 mm deep, from below and from above.
	p := newProber(boxes(t, [6]float64{0, 0, 0, 100, 30, 16},
		[6]float64{11, 11, 0, 8, 8, -10}, [6]float64{31, 11, 6, 8, 8, -10}, [6]float64{51, 20.5, 0, 8, 8, -10}, [6]float64{71, 11, 0, 8, 8, -15}), 1)
	for _, tt := range []struct {
		at    place
		below bool
		wrong string
	}{
		{place{15, 15}, true, ""}, {place{35, 15}, false, ""}, {place{55, 24.5}, true, "lines"}, {place{75, 15}, true, "ends"}, {place{15, 45}, true, "through"}, {place{90, 15}, true, "no hole"},
	} {
		if got := pinWrong(p, circle{tt.at, 4}, tt.below); (got == "") != (tt.wrong == "") || !strings.Contains(got, tt.wrong) {
			t.Errorf("at %v: %q, wanted %q", tt.at, got, tt.wrong)
		}
	}
}
