package job_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
)

// TestAbsurdFiguresAreRefused: a job file may carry any number; those that no workshop has are told in a sentence before a
// cutter's path is laid by them.
func TestAbsurdFiguresAreRefused(t *testing.T) {
	c := stocktest.Catalogue(t)
	fields := map[string]func(*job.Settings) *float64{
		"rough stepover":   func(s *job.Settings) *float64 { return &s.Rough.Stepover },
		"stepdown":         func(s *job.Settings) *float64 { return &s.Rough.Stepdown },
		"wood to leave":    func(s *job.Settings) *float64 { return &s.Rough.StockToLeave },
		"finish stepover":  func(s *job.Settings) *float64 { return &s.Fine.Stepover },
		"finish stepdown":  func(s *job.Settings) *float64 { return &s.Fine.Stepdown },
		"finish remainder": func(s *job.Settings) *float64 { return &s.Fine.StockToLeave },
		"feed":             func(s *job.Settings) *float64 { return &s.Rough.FeedMmMin },
		"panel":            func(s *job.Settings) *float64 { return &s.PanelX },
	}
	for what, field := range fields {
		for _, bad := range []float64{1e300, -5, math.NaN(), math.Inf(1)} {
			s := blockSettings(t)
			*field(&s) = bad
			if s.Check(c) == nil {
				t.Errorf("a %s of %g is taken", what, bad)
			}
		}
	}
	s := blockSettings(t)
	s.Core = 99
	if s.Check(c) == nil {
		t.Error("a hollow of no kind is taken")
	}
	if err := blockSettings(t).Check(c); err != nil {
		t.Errorf("the settings themselves are refused: %v", err)
	}
}
