package still

import (
	"context"
	"math"
	"testing"

	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// lit is the light on places near a mesh that stands as it is, summed over all looks of a care.
func lit(t *testing.T, m *mesh.Mesh, light look.Light, c Care, change func(*Scene), places ...look.Place) []look.Lit {
	t.Helper()
	s := scene(m, 1, 64, 64)
	s.View.Placement, s.View.Height = geom.Placement{Turn: geom.NoTurn(), Scale: 1}, m.Box().Max.Z
	s.Dress.Light = light
	if change != nil {
		change(&s)
	}
	c = c.bounded()
	w := newWork(&s, c, nil, 1)
	sum := make([]look.Lit, len(places))
	for k := range c.Looks {
		if err := w.light(context.Background(), k); err != nil {
			t.Fatal(err)
		}
		out := make([]look.Lit, len(places))
		w.gather(places, out)
		for i, l := range out {
			n := float32(c.Looks)
			sum[i].Red, sum[i].Green, sum[i].Blue = sum[i].Red+l.Red/n, sum[i].Green+l.Green/n, sum[i].Blue+l.Blue/n
			sum[i].Key, sum[i].Clear, sum[i].Sky = sum[i].Key+l.Key/n, sum[i].Clear+l.Clear/n, sum[i].Sky+l.Sky/n
		}
	}
	return sum
}

var careful = Care{Looks: 2, Key: 40, Above: 60, Below: 24, Side: 400}

// TestOpenGroundGetsTheLampsLight: with nothing in the way a level place has the key's light by its slope and the room's in
// full; closed formulas for a small light and an even half room.
func TestOpenGroundGetsTheLampsLight(t *testing.T) {
	m := solidtest.Box(10, 10, 10)
	for _, light := range []look.Light{look.Daylight, look.Spot} {
		far := look.Place{X: 1e6, NZ: 1, Ground: true}
		got := lit(t, m, light, careful, nil, far)[0]
		s := scene(m, 1, 64, 64)
		lamp := light.Lamp(s.Body, s.View)
		// The mean cosine over a cap of half angle a is the middle's times (1 + cos a)/2 where the points are even by angle
		// squared, near enough for caps up to 0.4.
		a := lamp.Spread
		want := lamp.KeyLight[1]*lamp.Key.Z*(1+math.Cos(a))/2 + lamp.Above[1] + lamp.Fill[1]*max(0, lamp.FillFrom.Z)
		if math.Abs(float64(got.Green)/want-1) > 0.02 || math.Abs(float64(got.Clear)-1) > 1e-3 || math.Abs(float64(got.Sky)-1) > 1e-3 {
			t.Errorf("light %d: %+v, want %.3f", light, got, want)
		}
	}
}

// TestBesideAWallHalfTheRoomIsHidden: at the foot of a long high wall half of an even sky is left, by symmetry; in the corner
// between floor and wall the same.
func TestBesideAWallHalfTheRoomIsHidden(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(20, 1000, 600), geom.Vec{X: -20, Y: -500})
	c := Care{Looks: 2, Key: 4, Above: 60, Below: 2, Side: 700}
	at := look.Place{X: 6, NZ: 1}
	got := lit(t, m, look.Overcast, c, nil, at)[0]
	if math.Abs(float64(got.Sky)-0.5) > 0.04 {
		t.Errorf("%.3f of the sky is left beside a wall, want 0.5", got.Sky)
	}
}

// TestShadowFallsWhereTheLightSays: a post's top edge throws its shadow along the light's direction by the height over the
// slope: inside it the key is gone, outside it is there, and between lies a penumbra as wide as the light.
func TestShadowFallsWhereTheLightSays(t *testing.T) {
	const high = 100.0
	m := solidtest.Moved(solidtest.Box(60, 60, high), geom.Vec{X: -30, Y: -30})
	s := scene(m, 1, 64, 64)
	lamp := look.Spot.Lamp(s.Body, s.View)
	away := geom.Vec{X: -lamp.Key.X, Y: -lamp.Key.Y}.Unit()
	reach := high * math.Hypot(lamp.Key.X, lamp.Key.Y) / lamp.Key.Z // of the top's middle
	place := func(d float64) look.Place {
		p := away.Scale(d)
		return look.Place{X: float32(p.X), Y: float32(p.Y), NZ: 1}
	}
	// The middle of the top throws its shadow at reach; the top is at least 30 mm deep from there to any side.
	got := lit(t, m, look.Spot, careful, nil, place(reach*0.9), place(reach+10), place(reach+60), place(-60))
	for i, want := range []float32{0, 0, 1, 1} {
		if math.Abs(float64(got[i].Clear-want)) > 0.02 {
			t.Errorf("place %d: %.2f of the spot gets through, want %g", i, got[i].Clear, want)
		}
	}
	// The same from the ground's own cells, which hold all light together.
	grounds := make([]look.Place, 4)
	for i, d := range []float64{reach * 0.9, reach + 10, reach + 60, 1e6} {
		grounds[i] = place(d)
		grounds[i].Ground = true
	}
	got = lit(t, m, look.Spot, careful, nil, grounds...)
	spot := float32(lamp.KeyLight[1] * lamp.Key.Z)
	for i, least := range []float32{0.95, 0.95, 0} {
		if part := (got[3].Green - got[i].Green) / spot; part < least || part > least+0.25 {
			t.Errorf("ground %d lacks %.2f of the spot's light, want %.2f and a little of the room's", i, part, least)
		}
	}
}

// TestPlinthThrowsItsShadow: the floor right behind a plinth, away from the spot, is dark; before it, it is lit.
func TestPlinthThrowsItsShadow(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(200, 200, 10), geom.Vec{X: -100, Y: -100})
	on := func(s *Scene) { s.View.Ground = look.OnPlinth; s.View.Elevation = 0.5 }
	s := scene(m, 1, 64, 64)
	on(&s)
	s.View.Placement, s.View.Height = geom.Placement{Turn: geom.NoTurn(), Scale: 1}, 10
	block, ok := s.View.Plinth(s.Body)
	if !ok {
		t.Fatal("there is no plinth")
	}
	lamp := look.Spot.Lamp(s.Body, s.View)
	behind, before := block.Min.X-1, block.Max.X+1
	if lamp.Key.X < 0 {
		behind, before = before, behind
	}
	at := func(x float64) look.Place {
		return look.Place{X: float32(x), Z: float32(block.Min.Z), NZ: 1, Ground: true}
	}
	got := lit(t, m, look.Spot, careful, on, at(behind), at(before))
	if spot := float32(lamp.KeyLight[1] * lamp.Key.Z); got[0].Green > got[1].Green-0.8*spot {
		t.Errorf("behind the plinth %.2f, before it %.2f, the spot gives %.2f", got[0].Green, got[1].Green, spot)
	}
}

// TestUndersideIsLitByTheFloor: a face that looks down gets light thrown back by the floor, and less of it close to a floor
// that lies in the piece's own shadow.
func TestUndersideIsLitByTheFloor(t *testing.T) {
	m := solidtest.Join(
		solidtest.Moved(solidtest.Box(300, 300, 10), geom.Vec{X: -150, Y: -150, Z: 40}),
		solidtest.Moved(solidtest.Box(10, 10, 40), geom.Vec{X: -5, Y: -5}))
	middle := look.Place{X: 40, Y: 40, Z: 40, NZ: -1}
	rim := look.Place{X: 148, Y: 148, Z: 40, NZ: -1}
	got := lit(t, m, look.Daylight, careful, nil, middle, rim)
	if !(got[0].Green < 0.75*got[1].Green) || got[0].Green <= 0 {
		t.Errorf("underside: %.3f in the middle, %.3f at the rim", got[0].Green, got[1].Green)
	}
}

// TestDirectionsAreEven: all looks together see a half room evenly: the mean direction of n is straight up by half, and each
// stays in its half.
func TestDirectionsAreEven(t *testing.T) {
	var sum geom.Vec
	const n = 96
	for i := range n {
		d := inHalf(i, n, 1)
		if d.Z <= 0 || math.Abs(d.Len()-1) > 1e-9 {
			t.Fatalf("direction %d is %v", i, d)
		}
		sum = sum.Add(d.Scale(1.0 / n))
	}
	if math.Abs(sum.Z-0.5) > 0.01 || math.Hypot(sum.X, sum.Y) > 0.03 {
		t.Errorf("mean direction %v, want 0, 0, 0.5", sum)
	}
	middle := geom.Vec{X: 0.3, Y: -0.4, Z: 0.8}.Unit()
	for i := range n {
		if d := inCap(middle, 0.3, i, n); d.Dot(middle) < math.Cos(0.3)-1e-9 {
			t.Fatalf("direction %d lies outside its cap", i)
		}
	}
}
