package field

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestLeast: where a ball's hollow goes right through a layer is a disc as wide as the ball at the face that lies further from its
// middle; and anywhere the least is that of many readings between the nodes of a block of the same layer, tetrahedron by tetrahedron.
func TestLeast(t *testing.T) {
	const radius, wall, up = 30.0, 10.0, 30.0
	g := build(t, solidtest.Sphere(radius, 20_000), 120)
	pl := geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1, Shift: geom.Vec{Z: up}}
	l, err := NewLattice(context.Background(), g, pl, g.standBox(pl), wall)
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewSource(1))
	for _, tt := range []struct{ bottom, top, far float64 }{{22, 34, 8}, {30, 42, 12}, {15, 27, 15}} {
		f, err := NewLeast(context.Background(), l, tt.bottom, tt.top, geom.Box2{Min: geom.Vec2{X: -25, Y: -25}, Max: geom.Vec2{X: 25, Y: 25}})
		if err != nil {
			t.Fatal(err)
		}
		var b Block
		b.Cut(l, tt.bottom, tt.top)
		wide := math.Sqrt((radius-wall)*(radius-wall) - tt.far*tt.far)
		for range 3000 {
			turn, off := 2*math.Pi*rnd.Float64(), 0.06+rnd.Float64()*rnd.Float64()
			if rnd.Intn(2) == 0 {
				off = -off
			}
			sin, cos := math.Sincos(turn)
			p := geom.Vec2{X: (wide + off) * cos, Y: (wide + off) * sin}
			got := f.At(p)
			if (got > 0) != (off < 0) {
				t.Errorf("from %g to %g mm: %.3f mm beyond the disc of %.3f mm the least is %.4f", tt.bottom, tt.top, off, wide, got)
			}
			// Further from the skin a block's readings are passed over.
			if want := leastRead(&b, p); math.Abs(want) < 0.1 && (math.Abs(got-want) > 0.01 || got > want+1e-4) {
				t.Errorf("from %g to %g mm, at %v: %.4f, by many readings %.4f", tt.bottom, tt.top, p, got, want)
			}
		}
	}
}

// leastRead reads a block's hollow along an upright line, at many heights of each cube.
func leastRead(b *Block, p geom.Vec2) float64 {
	l := b.lattice
	x, y := (p.X-l.X0)/l.Step, (p.Y-l.Y0)/l.Step
	u, v := x-math.Floor(x), y-math.Floor(y)
	least := math.Inf(1)
	for k := range len(b.Z) - 1 {
		node := (k*l.NY+int(y))*l.NX + int(x)
		at := func(corner uint8) float64 {
			c := int(corner)
			return float64(b.whole[node+c&1+c>>1&1*l.NX+c>>2*l.NX*l.NY])
		}
		for n := range 101 {
			ways := [3]float64{u, v, float64(n) / 100}
			for _, path := range CubePaths {
				first, second := path[0], path[1]^path[0]
				third := 7 ^ path[1]
				a, b, c := ways[first>>1], ways[second>>1], ways[third>>1] // 1, 2, 4 are the ways 0, 1, 2
				if a >= b && b >= c {
					least = min(least, at(0)*(1-a)+at(first)*(a-b)+at(path[1])*(b-c)+at(7)*c)
				}
			}
		}
	}
	return least
}
