package report_test

import (
	"math"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/report"
)

// TestLearnedRange: what the machine is to be expected to take stands in the report with the range that half of its sides keep
// to, and the hands' minutes on top; with nothing learned it is as reckoned, without a range.
func TestLearnedRange(t *testing.T) {
	for _, tt := range []struct {
		k                      hours.Factor
		router, low, high, all float64
	}{
		{hours.Factor{Times: 1.5, Low: 1.2, High: 1.9, Sides: 4}, 150, 120, 190, 170},
		{hours.Factor{}, 100, 100, 100, 120},
	} {
		r := report.Report{Carve: &report.Carve{RouterMin: 100, HandsOnMin: 20, TotalMin: 120}}
		r.AddLearned(tt.k, "m")
		l := r.Carve.Learned
		for name, f := range map[string][2]float64{
			"router": {l.RouterMin, tt.router}, "low": {l.LowMin, tt.low}, "high": {l.HighMin, tt.high}, "with hands": {l.TotalMin, tt.all},
		} {
			if math.Abs(f[0]-f[1]) > 1e-9*f[1] {
				t.Errorf("%s: %g minutes, want %g", name, f[0], f[1])
			}
		}
	}
}
