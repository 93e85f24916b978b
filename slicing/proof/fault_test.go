package proof

import (
	"strings"
	"testing"

	units "grainstack/slicing/unit"
)

// TestEveryFaultIsToldInItsUnits: the sentence of every kind names its file and its line, in inches no mm stand in it, and in mm no
// inches.
func TestEveryFaultIsToldInItsUnits(t *testing.T) {
	for w := What(0); w < whats; w++ {
		f := Fault{What: w, File: "a.nc", Line: 7, Size: 254, Bound: 508, Part: 3, Text: "Q"}
		inch, metric := f.Says().In(units.Inch), f.String()
		for _, said := range []string{inch, metric} {
			if !strings.HasPrefix(said, "a.nc, line 7") || strings.Contains(said, "%!") || strings.HasSuffix(said, "fails") {
				t.Errorf("%v is told as %q", w, said)
			}
		}
		if strings.Contains(inch, "mm") || strings.Contains(metric, " in/") || strings.Contains(metric, "10 in") {
			t.Errorf("%v: %q and %q", w, inch, metric)
		}
		if w == TooFast && inch != "a.nc, line 7 feeds 10 in/min, where 20 in/min are set for the cutter" {
			t.Errorf("in inches: %q", inch)
		}
	}
}
