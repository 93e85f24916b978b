package compass_test

import (
	"context"
	"testing"
	"time"

	"grainstack/assets/stocktest"
	"grainstack/slicing/compass"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// BenchmarkDirections is 300 directions and a closer look at the best places of a piece of a million triangles, 400 × 300 ×
// 250 mm, thinned.
func BenchmarkDirections(b *testing.B) {
	c := stocktest.Catalogue(b)
	m := solidtest.Bumpy(100, 1_000_000)
	size := m.Box().Size()
	p := job.NewPiece("test", solidtest.Stretch(m, 400/size.X, 300/size.Y, 250/size.Z), mesh.Raw{})
	s := job.Default(c)
	for b.Loop() {
		start := time.Now()
		first, rough, thinned := time.Duration(0), 0, time.Duration(0)
		got, err := compass.Search(context.Background(), p, s, c, compass.Options{}, func(m *compass.Map, done float64) {
			if first == 0 {
				first = time.Since(start)
			}
			if m.Rough {
				rough = len(m.Bearings)
			}
			if thinned == 0 && !m.Bearings[0].Rough {
				thinned = time.Since(start)
			}
		})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(first.Seconds(), "s-to-first")
		b.ReportMetric(thinned.Seconds(), "s-to-thinned")
		b.ReportMetric(float64(rough), "rough")
		b.ReportMetric(float64(len(got.Bearings)), "bearings")
		b.ReportMetric(got.Moved, "mm-moved")
	}
}
