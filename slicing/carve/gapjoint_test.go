package carve_test

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// TestJointThroughALevelSquareHole: in a hole of square section that stands on its edge, half a diagonal d high and length
// long, a joint so much above or below its middle frees the columns that reach it, 2(d² - off²)·length; only one through the
// middle frees it all.
func TestJointThroughALevelSquareHole(t *testing.T) {
	const d, off, length, mid = 8.0, 12.0, 60.0, 20.0
	hole := solidtest.Turned(solidtest.Frustum(d, d, 2*length, 4), geom.TurnXYZ(90, 0, 0)) // four sides: its corners point up and down
	hole = solidtest.Moved(hole, geom.Vec{Y: length, Z: mid})
	small := solidtest.Turned(solidtest.Frustum(d/2, d/2, 2*length, 4), geom.TurnXYZ(90, 0, 0))
	small = solidtest.Moved(small, geom.Vec{X: 25, Y: length, Z: mid + off})
	block := solidtest.Moved(solidtest.Box(100, length, 2*mid), geom.Vec{X: -50, Y: -length / 2})
	gaps, err := carve.FindGaps(context.Background(), bore(bore(block, hole), small), stack.Stand{Turn: geom.NoTurn(), Scale: 1}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	places := gaps.Within(0, 2*mid)
	if len(places) != 2 {
		t.Fatalf("%d places, want two holes", len(places))
	}
	for i, want := range []struct{ d, x, z float64 }{{d, 0, mid}, {d / 2, 25, mid + off}} {
		p := places[i]
		near(t, "volume", p.Volume(), 2*want.d*want.d*length, 0.002)
		if at := p.Center(); at.Sub(geom.Vec{X: want.x, Z: want.z}).Len() > 0.05 {
			t.Errorf("hole %d: its middle is at %v", i, at)
		}
		const step = 0.5
		freed := p.Freed(step, step, 79)
		for k, got := range freed {
			off := math.Abs(step*float64(k+1) - want.z)
			if within := 2 * max(want.d*want.d-off*off, 0) * length; math.Abs(got-within) > 2.5*0.1*length*want.d {
				t.Errorf("hole %d, joint %.1f mm off: %.0f mm³ are freed, want %.0f", i, off, got, within)
			}
		}
	}
	if got := gaps.Within(mid, 2*mid); len(got) != 1 {
		t.Errorf("above the joint through the large hole: %d places, want the small one", len(got))
	}
}

// TestExtraJoints: with one more joint in a layer, what the places say is freed is what the columns of the layers, parted
// there, trap less; and the largest place left is theirs.
func TestExtraJoints(t *testing.T) {
	m := solidtest.Turned(solidtest.Torus(60, 20, 180, 90), geom.TurnXYZ(90, 25, 0))
	s := stack.Stand{Turn: geom.NoTurn(), Scale: 1}
	p, err := stack.Place(context.Background(), m, s)
	if err != nil {
		t.Fatal(err)
	}
	gaps, err := carve.FindGaps(context.Background(), p.Mesh, s, 1)
	if err != nil {
		t.Fatal(err)
	}
	const thickness, first = 45.0, 30.0
	slabs, err := stack.Layers(p.Box.Size().Z, thickness, first)
	if err != nil {
		t.Fatal(err)
	}
	everywhere := gaps.Near([]geom.Vec{{}}, 1e4)
	for i, slab := range slabs {
		for _, share := range []float64{0.2, 0.5, 0.8} {
			at := slab.Bottom + share*slab.Thickness()
			freed := 0.0
			for _, one := range gaps.Within(slab.Bottom, slab.Top) {
				freed += one.Freed(at, 1, 1)[0]
			}
			lower, upper := slab, slab
			lower.Top, upper.Bottom = at, at
			after := append(append(append([]stack.Slab{}, slabs[:i]...), lower, upper), slabs[i+1:]...)
			columns := reach(t, p.Mesh, after, carve.Options{Step: 1, Thickness: thickness})
			_, want, _ := sums(columns)
			if got := gaps.Trapped(thickness, first) - freed; math.Abs(got-want) > 0.002*want+5 {
				t.Errorf("layer %d parted at %.1f mm: %.0f mm³ stay, want %.0f", slab.Number, at, got, want)
			}
			largest := 0.0
			for _, l := range columns {
				if b := l.Outside.Bodies(0); len(b) > 0 {
					largest = max(largest, b[0].Volume)
				}
			}
			if got := everywhere.Largest(thickness, first, at); math.Abs(got-largest) > 0.002*largest+5 {
				t.Errorf("layer %d parted at %.1f mm: the largest place left is %.0f mm³, want %.0f", slab.Number, at, got, largest)
			}
		}
	}
}
