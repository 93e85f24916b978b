package job_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestSliversAreNowhere: a stick beside a block, 1 mm square, is a sliver of every layer: in no drawing and in no joint.
func TestSliversAreNowhere(t *testing.T) { sliversAreNowhere(t, 0) }

// TestSandedSliversAreNowhere: with wood for sanding the drawings are of what is carved, which is as much larger, without the stick.
func TestSandedSliversAreNowhere(t *testing.T) { sliversAreNowhere(t, 0.3) }

func sliversAreNowhere(t *testing.T, sanding float64) {
	t.Helper()
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Shop.Allowance = 0, sanding
	st := standing(t, solidtest.Join(solidtest.Box(60, 60, 48), solidtest.Moved(solidtest.Box(1, 1, 48), geom.Vec{X: 50})), s)
	f := settle(t, st, s, c)
	const face = 60 * 60.0
	grown := (1+2*sanding)*(1+2*sanding) - 1 // by so much the stick takes more of a joint, which is that of the sanded piece
	carved := (60 + 2*sanding) * (60 + 2*sanding)
	for _, l := range f.Layers {
		if len(l.Slivers) != 1 || len(l.Parts) != 1 {
			t.Fatalf("layer %d has %d parts and %d slivers", l.Number, len(l.Parts), len(l.Slivers))
		}
		p, err := job.Plan(context.Background(), st, f, l.Number)
		if err != nil {
			t.Fatal(err)
		}
		for name, area := range map[string]float64{"lower face": p.Lower.Area(), "upper face": p.Upper.Area(), "widest": p.Widest.Area(), "beneath": p.Beneath.Area()} {
			want := carved
			if name == "beneath" && l.Number == 1 {
				want = 0
			}
			if math.Abs(area-want) > 0.01 {
				t.Errorf("layer %d, %s: %.2f mm² are drawn, the block has %.2f", l.Number, name, area, want)
			}
		}
		if l.Number > 1 && math.Abs(l.Joint+grown-face) > 0.01 {
			t.Errorf("layer %d is glued on %.2f mm², the block has %.0f", l.Number, l.Joint, face)
		}
	}
	if want := face * float64(len(f.Layers)-1); math.Abs(f.Totals.Joint-want) > 0.01+grown*float64(len(f.Layers)-1) {
		t.Errorf("%.2f mm² are glued in all, want %.0f", f.Totals.Joint, want)
	}
}
