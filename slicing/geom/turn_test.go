package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(a, b Vec) bool { return a.Sub(b).Len() < 1e-12*(1+a.Len()) }

func someVec(rnd *rand.Rand) Vec {
	return Vec{rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()}
}

// TestTurnXYZ: each axis turns the next one onto the one after it, and quarter turns have no rounding.
func TestTurnXYZ(t *testing.T) {
	x, y, z := Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}
	for _, tt := range []struct {
		name     string
		turn     Turn
		from, to Vec
	}{
		{"about X", TurnXYZ(90, 0, 0), y, z},
		{"about Y", TurnXYZ(0, 90, 0), z, x},
		{"about Z", TurnXYZ(0, 0, 90), x, y},
		{"back about Z", TurnXYZ(0, 0, -90), y, x},
		{"X comes before Z", TurnXYZ(90, 0, 90), y, z},
		{"a whole turn", TurnXYZ(360, -720, 1080), x, x},
		{"half a turn", TurnXYZ(0, 0, 180), x, x.Scale(-1)},
	} {
		if got := tt.turn.Apply(tt.from); got != tt.to {
			t.Errorf("%s: %v goes to %v, want %v", tt.name, tt.from, got, tt.to)
		}
	}
}

// TestTurnsKeepLengths: lengths, products and hands stay; the inverse brings back; Then is one after the other.
func TestTurnsKeepLengths(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		a := TurnXYZ(360*rnd.Float64(), 360*rnd.Float64(), 360*rnd.Float64())
		b := TurnAbout(someVec(rnd), 7*rnd.Float64())
		v, w := someVec(rnd), someVec(rnd)
		if d := a.Apply(v).Dot(a.Apply(w)) - v.Dot(w); math.Abs(d) > 1e-12 {
			t.Errorf("a product changes by %g", d)
		}
		if !near(a.Apply(v.Cross(w)), a.Apply(v).Cross(a.Apply(w))) {
			t.Error("left and right are changed")
		}
		if !near(a.Inverse().Apply(a.Apply(v)), v) || !near(a.Then(b).Apply(v), b.Apply(a.Apply(v))) {
			t.Error("turned back or one after the other")
		}
	}
}

// TestDegrees: the angles make the turn again, also where two axes fall together.
func TestDegrees(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := range 300 {
		x, y, z := 360*rnd.Float64(), 360*rnd.Float64(), 360*rnd.Float64()
		if n%3 == 0 {
			y = 90 // X and Z turn about one axis
		} else if n%3 == 1 {
			x, y, z = 90*math.Floor(x/90), 90*math.Floor(y/90), 90*math.Floor(z/90)
		}
		turn := TurnXYZ(x, y, z)
		again := TurnXYZ(turn.Degrees())
		for range 3 {
			if v := someVec(rnd); again.Apply(v).Sub(turn.Apply(v)).Len() > 1e-5*v.Len() {
				t.Fatalf("%g, %g, %g: %v goes to %v, again to %v", x, y, z, v, turn.Apply(v), again.Apply(v))
			}
		}
	}
}

// TestTurnTo: the direction arrives, by no more than the angle between the two.
func TestTurnTo(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 3))
	pairs := [][2]Vec{
		{{X: 1}, {X: 1}},                // no turn
		{{X: 1}, {X: -1}},               // half round, about Y or Z
		{{Y: 2}, {Y: -3}},               // half round, of other lengths
		{{Z: 1}, {Z: 1, X: 1e-15}},      // too near to tell an axis
		{{X: 1, Y: 1}, {X: -1, Y: -1}},  // half round, askew
		{{X: 1, Z: 5}, {X: -1, Z: 0.1}}, // any
	}
	for range 100 {
		pairs = append(pairs, [2]Vec{someVec(rnd), someVec(rnd)})
	}
	for _, p := range pairs {
		f, to := p[0].Unit(), p[1].Unit()
		turn := TurnTo(p[0], p[1])
		if got := turn.Apply(f); got.Sub(to).Len() > 1e-9 {
			t.Errorf("%v to %v: arrives at %v", p[0], p[1], got)
		}
		want := math.Atan2(f.Cross(to).Len(), f.Dot(to)) // trace = 1 + 2 cos
		if got := math.Acos(max(-1, min(1, (turn[0][0]+turn[1][1]+turn[2][2]-1)/2))); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v to %v: turns by %g, want %g", p[0], p[1], got, want)
		}
	}
	for _, p := range [][2]Vec{{{}, {X: 1}}, {{X: 1}, {}}} { // no direction
		if turn := TurnTo(p[0], p[1]); turn != NoTurn() {
			t.Errorf("%v to %v: got %v", p[0], p[1], turn)
		}
	}
}

func TestPlacement(t *testing.T) {
	p := Placement{Turn: TurnXYZ(0, 0, 90), Scale: 2, Shift: Vec{10, 20, 30}}
	if got, want := p.Apply(Vec{1, 0, 5}), (Vec{10, 22, 40}); got != want {
		t.Errorf("got %v, want %v: turned, scaled, then moved", got, want)
	}
	rnd := rand.New(rand.NewPCG(1, 4))
	for range 50 {
		if v := someVec(rnd); !near(p.Back(p.Apply(v)), v) {
			t.Errorf("%v comes back as %v", v, p.Back(p.Apply(v)))
		}
	}
}

func TestUnit(t *testing.T) {
	for _, tt := range []struct{ v, want Vec }{{Vec{}, Vec{}}, {Vec{0, -3, 0}, Vec{0, -1, 0}}, {Vec{3, 0, 4}, Vec{0.6, 0, 0.8}}} {
		if got := tt.v.Unit(); !near(got, tt.want) {
			t.Errorf("%v: got %v, want %v", tt.v, got, tt.want)
		}
	}
}
