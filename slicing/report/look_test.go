package report_test

import (
	"context"
	"slices"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
)

// TestSetAside: what is set aside is not among what needs a look, whether it is found before or later, and is listed with its note.
func TestSetAside(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	st := jobtest.Standing(t, solidtest.Box(100, 100, 18), s) // too low, with a last layer of 2 mm
	f := jobtest.Settled(t, st, s, c)
	r, err := report.New(context.Background(), st, f, 0)
	if err != nil {
		t.Fatal(err)
	}
	kinds := func() (all []string) {
		for _, l := range r.Look {
			all = append(all, l.Kind)
		}
		return all
	}
	low, last := finding.TooLow.String(), finding.ThinLast.String()
	if !slices.Contains(kinds(), low) || !slices.Contains(kinds(), last) || r.Aside != nil {
		t.Fatalf("found are %q", kinds())
	}
	r.SetAside([]finding.Aside{{Key: finding.Key{Kind: last, Layer: 2}, Note: "by hand plane"}}, st)
	if slices.Contains(kinds(), last) || !slices.Contains(kinds(), low) || len(r.Cautions) != len(r.Look) {
		t.Errorf("set aside, there are %q and %q", kinds(), r.Cautions)
	}
	if len(r.Aside) != 1 || r.Aside[0].Kind != last || r.Aside[0].Note != "by hand plane" || r.Aside[0].Places[0].Layer != 2 {
		t.Errorf("listed are %+v", r.Aside)
	}
}
