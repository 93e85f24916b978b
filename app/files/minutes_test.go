package files

import (
	"math"
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/program"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

// TestHoursAreThoseOfPrograms holds the minutes of programs against the simulated hours of the same settings. They lie within 3 % on
// large pieces, as the demo, which takes too long for a test. On small ones, of which most is edge, what columns half a millimetre
// apart don't show counts for more: the bounds are what these bodies have, less than a percent off.
func TestHoursAreThoseOfPrograms(t *testing.T) {
	scaled := func(m *mesh.Mesh, wide float64) *mesh.Mesh {
		size := m.Box().Size()
		k := wide / max(size.X, size.Y, size.Z)
		return solidtest.Stretch(m, k, k, k)
	}
	for _, c := range []struct {
		name          string
		m             *mesh.Mesh
		wall          float64
		rough, finish float64 // percent that programs may take more or less
	}{
		{"hare", scaled(sample.Hare(20_000), 120), 0, 9, 5},
		{"lying torus", scaled(solidtest.Torus(22, 8, 120, 60), 140), 0, 4, 1},
	} {
		w := work(t, c.m, job.Places{}, func(s *job.Settings) { s.Wall = c.wall })
		w.Machine = program.Machine{Controller: stock.UsualController()}
		all, _, err := ReportPrograms(t.Context(), w)
		if err != nil {
			t.Fatal(err)
		}
		r, err := workshop.Reach(t.Context(), w.Standing, w.Figures, w.Catalogue, nil)
		if err != nil {
			t.Fatal(err)
		}
		took := map[string]float64{}
		for _, p := range all {
			took[p.Step] += p.Minutes
		}
		for _, pass := range []struct {
			step             string
			simulated, bound float64
		}{{program.Rough.String(), r.RoughMin, c.rough}, {program.Finish.String(), r.FineMin, c.finish}} {
			off := 100 * (took[pass.step]/pass.simulated - 1)
			t.Logf("%s, %s: programs %.1f min, simulated %.1f min: %+.1f %%", c.name, pass.step, took[pass.step], pass.simulated, off)
			if !(math.Abs(off) <= pass.bound) {
				t.Errorf("%s, %s: programs are %+.1f %% off what is simulated, want %.0f %% at the most", c.name, pass.step, off, pass.bound)
			}
		}
	}
}
