package wayout_test

import (
	"context"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/sample"
	"grainstack/slicing/wayout"
)

// TestNamedUndercutsGo: of the hare's largest undercuts each is freed by a way out; once that is taken, the cutters, followed
// anew, find nothing there any more, and no more in all than before.
func TestNamedUndercutsGo(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	m := sample.Hare(100_000)
	st := jobtest.Standing(t, m, s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, stocktest.Catalogue(t), 0.5)
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	var named []finding.Place
	for _, one := range r.Cautions {
		if one.Kind == finding.Undercut {
			named, _ = one.Told()
		}
	}
	freed, checked := map[geom.Vec]bool{}, 0
	for _, w := range ways {
		if w.Frees == 0 || w.ByHand() {
			continue
		}
		if !strings.Contains(w.Gone.String(), "gone: the undercut") || w.Trapped > w.TrappedBefore {
			t.Errorf("%s: %.0f mm³ instead of %.0f", w.Text, w.Trapped, w.TrappedBefore)
		}
		if freed[w.FreedAt] {
			continue
		}
		freed[w.FreedAt] = true
		checked++
		there := jobtest.Standing(t, m, w.Settings)
		at := there.Placed.Placement.Apply(st.Placed.Placement.Back(w.FreedAt))
		after := jobtest.Reached(t, there, jobtest.Settled(t, there, w.Settings, c), stocktest.Catalogue(t), 0.5)
		for _, one := range after.Findings {
			if d := one.At.Sub(at).Len(); one.Kind == finding.Undercut && d < 40 {
				t.Errorf("%s: %.0f mm from there %+v", w.Text, d, one)
			}
		}
	}
	if len(named) < 3 || checked < 2 {
		t.Errorf("%d undercuts are named, ways out were tried for %d", len(named), checked)
	}
	for _, at := range named {
		place, out := (finding.Words{}).Whereabouts(at), false
		for _, w := range ways {
			_, gone, _ := strings.Cut(w.Gone.String(), "gone: ")
			out = out || !w.ByHand() && strings.Contains(gone, place)
		}
		if !out {
			t.Errorf("nothing frees the undercut %s", place)
		}
	}
}
