package job_test

import (
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/job"
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
		r := job.Report{Carve: &job.CarveReport{RouterMin: 100, HandsOnMin: 20, TotalMin: 120}}
		r.AddLearned(tt.k, "m")
		l := r.Carve.Learned
		near(t, "router", l.RouterMin, tt.router, 1e-9)
		near(t, "low", l.LowMin, tt.low, 1e-9)
		near(t, "high", l.HighMin, tt.high, 1e-9)
		near(t, "with hands", l.TotalMin, tt.all, 1e-9)
	}
}
