package register

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
)

// TestFromPoints: exact partners give the placement itself; the sum of squares is least there for rough ones, which small changes show.
func TestFromPoints(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	vec := func() geom.Vec { return geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()} }
	for n := 3; n < 12; n++ {
		want := geom.Placement{Turn: geom.TurnAbout(vec(), 3*rnd.Float64()), Scale: 0.3 + rnd.Float64(), Shift: vec()}
		from, to, rough := make([]geom.Vec, n), make([]geom.Vec, n), make([]geom.Vec, n)
		for i := range from {
			from[i] = vec()
			to[i] = want.Apply(from[i])
			rough[i] = to[i].Add(vec().Scale(0.02))
		}
		p, left, err := FromPoints(from, to)
		if err != nil || left > 1e-9 || p.Apply(geom.Vec{X: 1, Y: 2, Z: 3}).Sub(want.Apply(geom.Vec{X: 1, Y: 2, Z: 3})).Len() > 1e-9 {
			t.Fatalf("%d points: %v %v, want %v (%v)", n, p, left, want, err)
		}
		if p, left, err = FromPoints(from, rough); err != nil {
			t.Fatal(err)
		}
		for range 30 {
			q := p
			q.Turn = q.Turn.Then(geom.TurnAbout(vec(), 0.003*rnd.NormFloat64()))
			q.Scale *= 1 + 0.003*rnd.NormFloat64()
			q.Shift = q.Shift.Add(vec().Scale(0.003))
			if worse := apart(q, from, rough); worse < left-1e-9 {
				t.Fatalf("%d points: %g is left, %g after a change", n, left, worse)
			}
		}
	}
}

// TestPointsThatDoNotDo: too few, in one place, on a line, of the mirror image.
func TestPointsThatDoNotDo(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	rough := func(at ...geom.Vec) []geom.Vec {
		for i := range at {
			at[i] = at[i].Add(geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Scale(0.005))
		}
		return at
	}
	line := rough(geom.Vec{}, geom.Vec{X: 1}, geom.Vec{X: 2.4})
	spread := rough(geom.Vec{}, geom.Vec{X: 1}, geom.Vec{Y: 1.2}, geom.Vec{Z: 0.8})
	other := make([]geom.Vec, len(spread))
	for i, p := range rough(spread...) {
		other[i] = geom.Vec{X: p.Z, Y: p.Y, Z: p.X} // two axes changed over
	}
	same := geom.Vec{X: 3, Y: 2, Z: 1}
	for _, tt := range []struct {
		from, to []geom.Vec
		want     error
	}{
		{spread[:2], spread[:2], errFew},
		{[]geom.Vec{same, same, same}, spread[:3], errFew},
		{line, spread[:3], errLine},
		{spread[:3], line, errLine},
		{spread, other, errMirrored},
	} {
		if _, _, err := FromPoints(tt.from, tt.to); !errors.Is(err, tt.want) {
			t.Errorf("%v onto %v: %v, want %v", tt.from, tt.to, err, tt.want)
		}
	}
	if _, _, err := FromPoints(spread, spread[:3]); err == nil {
		t.Error("a point without a partner is taken")
	}
	if _, left, err := FromPoints(spread, rough(append([]geom.Vec(nil), spread...)...)); err != nil || math.IsNaN(left) {
		t.Errorf("rough points: %v", err)
	}
}
