package geom

import "testing"

// TestPlacementsFollow: one after another is the same as both at once, and the inverse leads back.
func TestPlacementsFollow(t *testing.T) {
	p := Placement{Turn: TurnXYZ(20, -50, 130), Scale: 1.7, Shift: Vec{3, -2, 9}}
	q := Placement{Turn: TurnXYZ(-80, 10, 33), Scale: 0.4, Shift: Vec{-1, 5, 2}}
	v := Vec{0.3, 4, -2}
	if d := p.Then(q).Apply(v).Sub(q.Apply(p.Apply(v))).Len(); d > 1e-12 {
		t.Errorf("one after another is %g off", d)
	}
	for _, back := range []Vec{p.Inverse().Apply(p.Apply(v)), p.Then(p.Inverse()).Apply(v), p.Back(p.Apply(v)), NoPlacement().Apply(v)} {
		if d := back.Sub(v).Len(); d > 1e-12 {
			t.Errorf("back is %g off", d)
		}
	}
}
