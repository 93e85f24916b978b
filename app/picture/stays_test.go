package picture

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestWhereWoodStays: of a spool that lies within one layer exactly the gap between its discs is marked, on the sheet as a
// ring of known area; its outer faces, which cutters see, are not.
func TestWhereWoodStays(t *testing.T) {
	c := stocktest.Catalogue(t)
	ctx := context.Background()
	const R, r = 30.0, 10.0
	disc := func(r, from, to float64) *mesh.Mesh {
		return solidtest.Moved(solidtest.Frustum(r, r, to-from, 360), geom.Vec{Z: from})
	}
	s := job.Default(c)
	s.Wall = 0
	spool := job.NewPiece("spool", solidtest.Join(solidtest.Join(disc(R, 0, 5), disc(r, 2, 14)), disc(R, 11, 15.9)), mesh.Raw{})
	st, err := job.Stand(ctx, spool, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	got, err := job.Reach(ctx, st, f, 0, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	mark := Stain(got, f)
	for _, tt := range []struct {
		p    geom.Vec
		up   float64
		want bool
	}{
		{geom.Vec{X: 20, Z: 5}, 1, true}, {geom.Vec{Y: -20, Z: 11}, -1, true}, {geom.Vec{X: 10.2, Z: 8}, 0, true},
		{geom.Vec{X: 20, Z: 0}, -1, false}, {geom.Vec{Y: 20, Z: 15.9}, 1, false}, {geom.Vec{X: 5, Z: 15.9}, 1, false},
		{geom.Vec{X: 200, Z: 5}, 1, false},
	} {
		if k := mark.At(tt.p, tt.up); (k > 0) != tt.want || k > 1 {
			t.Errorf("at %v facing %g the mark is %g", tt.p, tt.up, k)
		}
	}
	v := WithReached(sheet.LayerView{Number: 1}, got)
	if len(v.Stays) == 0 || v.Stays[0].Kind != sheet.UnderOverhang || math.Abs(v.Stays[0].Most-6) > 0.01 {
		t.Fatalf("the sheet has %+v", v.Stays)
	}
	for _, step := range v.Stays[0].Steps {
		if area, want := step.Where.Area(), math.Pi*(R*R-r*r); math.Abs(area-want) > 0.01*want {
			t.Errorf("from %g mm on %.1f mm² stay, want %.1f", step.From, area, want)
		}
	}
	if Stain(nil, f) != nil || len(WithReached(sheet.LayerView{Number: 9}, got).Stays) != 0 {
		t.Error("something stays where nothing is known")
	}
}
