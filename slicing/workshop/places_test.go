package workshop_test

import (
	"context"
	"slices"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

// TestPlacesStay: a joint line in one layer leaves the parts of all others where the maker has put them, and a drag's end is
// refused where it would take more than laying parts and tabs.
func TestPlacesStay(t *testing.T) {
	m := solidtest.Frustum(60, 30, 64, 90)
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	w, _ := laidOut(t, m, s, job.Places{})
	held := w.Places.PlacesOf(w.Layout)
	split := held.WithSplit(job.Split{Part: panel.ID{Layer: 3}, A: geom.Vec2{X: 5, Y: -60}, B: geom.Vec2{X: 5, Y: 60}})
	v, _ := laidOut(t, m, s, split)
	if len(v.Parts) != len(w.Parts)+1 {
		t.Fatalf("split, there are %d parts, before %d", len(v.Parts), len(w.Parts))
	}
	for _, p := range w.Parts {
		n, was, _ := w.Layout.Find(p.ID)
		if k, at, _ := v.Layout.Find(p.ID); p.Layer != 3 && (k != n || at != was) {
			t.Errorf("%v lies on panel %d at %v, before on %d at %v", p.ID, k, at, n, was)
		}
	}
	if clash := v.Bench.Check(v.Layout); len(clash) > 0 {
		t.Errorf("the split layout collides: %v", clash[0])
	}
	c := stocktest.Catalogue(t)
	at := slices.IndexFunc(w.Joints, func(j workshop.Joint) bool { return len(j.Pins) > 0 })
	if at < 0 {
		t.Fatal("no joint has pins")
	}
	j := w.Joints[at]
	pins := []geom.Vec2{j.Pins[0].At}
	withPins := held.WithPins(j.Above, pins)
	u, ok := w.Relaid(context.Background(), held.WithTabs(panel.ID{Layer: 1}, []geom.Vec2{{X: 60}, {X: -60}}), c)
	if !ok {
		t.Fatal("other tabs alone can't be laid quickly")
	}
	if p, _ := u.Part(panel.ID{Layer: 1}); len(p.Tabs) != 2 {
		t.Errorf("two tabs were put, there are %d", len(p.Tabs))
	}
	if _, ok := w.Relaid(context.Background(), withPins, c); ok {
		t.Error("pins were moved, and the joints were not worked out anew")
	}
	if o := s; !s.CarvesLike(o) {
		t.Error("the same settings don't carve alike")
	}
	o := s
	o.Shop.ClampHeight++
	if !s.CarvesLike(o) {
		t.Error("a higher clamp changes what the cutters do")
	}
	o.Shop.TabWidth++
	if s.CarvesLike(o) {
		t.Error("a wider tab leaves what the cutters do")
	}
	o = s
	o.Wall++
	if s.CarvesLike(o) {
		t.Error("a thicker wall leaves what the cutters do")
	}
}
