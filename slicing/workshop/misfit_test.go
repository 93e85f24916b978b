package workshop

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestWhatIsTooLargeFitsTheWaysOut: a frustum 120 mm across on panels of 130 mm, whose edges and dowels take more than the 10 mm
// that are left; on the panel that is offered, and at the scale that is offered, every part has room.
func TestWhatIsTooLargeFitsTheWaysOut(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.PanelX, s.PanelY = 130, 130
	lay := func(s job.Settings) *Workshop {
		t.Helper()
		ctx := context.Background()
		st, err := job.Stand(ctx, job.NewPiece("frustum", solidtest.Frustum(60, 30, 64, 90), mesh.Raw{}), s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		f, err := job.Settle(ctx, st, s, c)
		if err != nil {
			t.Fatal(err)
		}
		v, err := New(ctx, st, f, job.Places{}, c, Watch{})
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	v := lay(s)
	m, ok := v.Misfit()
	if !ok || m.Part != v.Layout.TooLarge[0].Part || m.More != len(v.Layout.TooLarge)-1 || math.Abs(m.Size.X-120) > 0.5 || m.Scale >= 1 {
		t.Fatalf("%v, %+v", ok, m)
	}
	if half, ok := v.Halved(m.Part); !ok || half.A.Sub(half.B).Len() < 119 || math.Abs(half.A.X+half.B.X)+math.Abs(half.A.Y+half.B.Y) > 1 {
		t.Errorf("halved along %v", half)
	}
	larger, smaller := s, s
	larger.PanelX, larger.PanelY = m.Panel.X, m.Panel.Y
	smaller.Scale *= m.Scale
	for name, one := range map[string]job.Settings{"a larger panel": larger, "a smaller scale": smaller} {
		if v := lay(one); len(v.Layout.TooLarge) > 0 {
			t.Errorf("%s: %d parts are still too large", name, len(v.Layout.TooLarge))
		} else if _, ok := v.Misfit(); ok {
			t.Errorf("%s: all parts fit, but one is named", name)
		}
	}
}
