package workshop_test

import (
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/unit"
)

// TestAClampOverADowelIsNamed: the register dowels stand on the line at y = 300, 14 mm from the edges.
func TestAClampOverADowelIsNamed(t *testing.T) {
	for _, tt := range []struct {
		clamps string
		named  int
	}{{"left:300", 1}, {"left:322", 1}, {"left:330", 0}, {"left:300, right:300", 2}, {"back:300", 0}} {
		s := job.Default(stocktest.Catalogue(t))
		s.Wall = 0
		var err error
		if s.Shop.PanelClamps, err = job.ParsePanelClamps(tt.clamps, unit.MM); err != nil {
			t.Fatal(err)
		}
		w, _ := laidOut(t, solidtest.Box(100, 100, 30), s, job.Places{})
		n := 0
		for _, c := range w.Cautions {
			if c.Kind == finding.ClampOnDowel && c.Worst().More[1] == 0 {
				n++
			}
		}
		if n != tt.named {
			t.Errorf("%s: %d clamps over dowels are named, want %d: %v", tt.clamps, n, tt.named, w.Cautions)
		}
	}
}
