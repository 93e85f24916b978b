package compass

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
)

func piece(m *mesh.Mesh) *job.Piece { return job.NewPiece("test", m, mesh.Raw{}) }

// solid are the default settings without a hollow.
func solid(t testing.TB) job.Settings {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	return s
}

func only(m Measure) (w Weights) {
	w[m] = 1
	return w
}

func searched(t *testing.T, p *job.Piece, s job.Settings, o Options) *Map {
	t.Helper()
	m, err := Search(context.Background(), p, s, stocktest.Catalogue(t), o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.5g, want %.5g within %.2g", what, got, want, within)
	}
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// gutter is half a tube along Y, open to +Z: radii outer and inner, length long.
func gutter(outer, inner, long float64) *mesh.Mesh {
	const n = 48
	m := &mesh.Mesh{}
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi + math.Pi*float64(i)/n)
		for _, y := range []float64{-long / 2, long / 2} {
			for _, r := range []float64{outer, inner} {
				m.Points = append(m.Points, mesh.Point{float32(r * c), float32(y), float32(r * s)})
			}
		}
	}
	quad := func(a, b, c, d int32) {
		m.Triangles = append(m.Triangles, mesh.Triangle{a, c, b}, mesh.Triangle{a, d, c})
	}
	for i := range int32(n) {
		a, b := 4*i, 4*i+4 // +0 outer front, +1 inner front, +2 outer back, +3 inner back
		quad(a, b, b+2, a+2)
		quad(a+1, a+3, b+3, b+1)
		quad(a, a+1, b+1, b)
		quad(a+2, b+2, b+3, a+3)
	}
	quad(0, 2, 3, 1)
	e := int32(4 * n)
	quad(e, e+1, e+3, e+2)
	return m
}

// leant is a turn that is no multiple of anything.
func leant() geom.Turn { return geom.TurnXYZ(33, -21, 57) }
